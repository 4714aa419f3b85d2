package tui

// From a plan to a session, through the dark: what touches do that no screen sees by itself.

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
)

// darkroom has the shipped recipes; what the way to a session does not ask for it has not.
type darkroom struct {
	shelf
	now    time.Time
	sound  string
	begun  []screen.SessionStart
	said   []screen.Utterance
	lights []light.Light
}

var errNoRoom = errors.New("no room left on the disk")

func (d *darkroom) Sound() string          { return d.sound }
func (d *darkroom) Say(u screen.Utterance) { d.said = append(d.said, u) }
func (d *darkroom) Light(l light.Light)    { d.lights = append(d.lights, l) }
func (d *darkroom) Begin(s screen.SessionStart) (screen.Session, error) {
	d.begun = append(d.begun, s)
	return nil, errNoRoom
}

// seat is somebody at the keys.
type seat struct {
	d   *darkroom
	m   Model
	cmd tea.Cmd
}

func sit(t testing.TB, recipe string, w sequence.RawConditions) *seat {
	t.Helper()
	d := &darkroom{now: time.Date(2024, 5, 4, 20, 0, 0, 0, time.UTC), sound: "sound: PulseAudio"}
	m, err := New(Options{Env: screen.Env{Now: func() time.Time { return d.now }, Defaults: w}, Conditions: w, Backend: d, Start: recipe})
	if err != nil {
		t.Fatal(err)
	}
	return &seat{d: d, m: m}
}

func (s *seat) send(msg tea.Msg) {
	next, cmd := s.m.Update(msg)
	s.m, s.cmd = next.(Model), cmd
}

func (s *seat) press(keys ...string) *seat {
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		for _, typ := range []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyDown} {
			if typ.String() == k {
				msg = tea.KeyMsg{Type: typ}
			}
		}
		s.send(msg)
		s.quiet()
	}
	return s
}

// quiet is silence, if it may be: what it comes to is carried out as the key would be.
func (s *seat) quiet() {
	next, cmd := s.m.Update(QuietMsg{})
	if s.m = next.(Model); cmd != nil {
		s.cmd = tea.Batch(s.cmd, cmd)
	}
}

func (s *seat) later(d time.Duration) *seat {
	s.d.now = s.d.now.Add(d)
	return s
}

// A key that darkens the screen, held or bouncing, has no part in the two touches that begin.
func TestTheTouchThatDarkensIsNoFirstOfTwo(t *testing.T) {
	s := sit(t, "plover-tray", sequence.RawConditions{}).press("enter", "c").later(3 * time.Second)
	for range 50 {
		s.later(33 * time.Millisecond).press(" ")
	}
	if !s.m.dark() || s.m.View() != "" {
		t.Fatal("not dark")
	}
	if s.later(time.Second).press(" "); s.m.starting {
		t.Error("the touch that darkened the screen was the first of two")
	}
	if s.later(time.Second).press(" "); !s.m.starting {
		t.Error("two touches do not begin")
	}
	s.later(3 * time.Second).press("esc").later(time.Second).press("esc")
	if !s.m.dark() {
		t.Error("light while a session is being begun")
	}
	if s.send(begunMsg{err: errNoRoom}); !s.m.dark() || s.m.starting {
		t.Fatal("a failure lights the screen, or nothing can be tried again")
	}
	if said := s.d.said; len(said) == 0 || said[len(said)-1] != screen.SaysNotBegun {
		t.Errorf("said %v", said)
	}
	s.later(3 * time.Second).press(" ").later(time.Second).press(" ")
	if !s.m.starting {
		t.Error("two touches do not try again")
	}
	s.send(begunMsg{err: errNoRoom})
	s.later(3 * time.Second).press("esc").later(time.Second).press("esc")
	if s.m.dark() || !strings.HasPrefix(s.m.message.text, "No room left on the disk. Film may lie open") || s.d.lights[len(s.d.lights)-1] != light.Red {
		t.Errorf("dark %v, %q, lights %v", s.m.dark(), s.m.message.text, s.d.lights)
	}
}

// Whoever leaves the loading for white light is told first that film may be out: the key does it when
// it is pressed once more. A rehearsal has no film, and says nothing of it.
func TestWhoLeavesTheLoadingIsToldOfTheFilm(t *testing.T) {
	for _, key := range []string{"esc", "q"} {
		for _, rehearsed := range []bool{false, true} {
			s := sit(t, "plover-tray", sequence.RawConditions{})
			if rehearsed {
				s.m.o.Rehearsal = screen.Rehearsal{Speed: 30, Dark: true}
			}
			s.press("enter", "c").later(3 * time.Second).press(" ").later(3 * time.Second).press("esc").later(time.Second).press("esc")
			if told := strings.Contains(s.m.message.text, "Film may lie open"); s.m.dark() || told == rehearsed {
				t.Fatalf("rehearsed %v: dark %v, said %q", rehearsed, s.m.dark(), s.m.message.text)
			}
			if s.press(key); rehearsed {
				continue
			}
			if s.m.light() != light.Red || s.m.quitting || !strings.Contains(s.m.message.text, key+" once more goes on") {
				t.Fatalf("%s: %s, quitting %v, said %q", key, s.m.light(), s.m.quitting, s.m.message.text)
			}
			s.press(key)
			if left := s.m.quitting || s.m.light() == light.White; !left {
				t.Errorf("%s once more does not leave", key)
			}
		}
	}
}

// Whatever comes while film is loaded, no cell is lit, and light comes by escape twice alone.
func TestNothingLightsTheLoading(t *testing.T) {
	keys := []string{" ", " ", "esc", "esc", "enter", "q", "y", "c", "o", "l", "m", "?", "1"}
	rapid.Check(t, func(r *rapid.T) {
		s := sit(t, "plover-tray", sequence.RawConditions{}).press("enter", "c").later(3 * time.Second).press(" ")
		escaped := time.Time{}
		for range rapid.IntRange(1, 40).Draw(r, "messages") {
			s.later(time.Duration(rapid.IntRange(0, 2500).Draw(r, "ms")) * time.Millisecond)
			key := ""
			switch rapid.IntRange(0, 4).Draw(r, "kind") {
			case 0:
				s.send(tea.WindowSizeMsg{Width: rapid.IntRange(0, 300).Draw(r, "w"), Height: rapid.IntRange(0, 100).Draw(r, "h")})
			case 1:
				s.send(begunMsg{err: errNoRoom})
			default:
				key = rapid.SampledFrom(keys).Draw(r, "key")
				s.press(key)
			}
			if s.m.dark() {
				if s.m.View() != "" {
					r.Fatal("something is drawn in the dark")
				}
				if key == "esc" {
					escaped = s.d.now
				}
				continue
			}
			if key != "esc" || escaped.IsZero() {
				r.Fatalf("the screen left the dark by %q", key)
			}
			return
		}
	})
}

// What the developer read while preparing is in the plan that is come back to.
func TestTheReadingIsKept(t *testing.T) {
	s := sit(t, "tern-hangers", sequence.RawConditions{}).press("enter", "enter", "enter", "2", "4", "enter", "esc", "enter")
	s.press("enter")
	if s.press("c").later(3 * time.Second).press(" ").later(3 * time.Second).press(" ").later(time.Second).press(" "); !s.m.starting {
		t.Fatal("nothing has begun")
	}
	runAll(s.cmd)
	if len(s.d.begun) != 1 || s.d.begun[0].Plan.Conditions.BathTemperature == nil || *s.d.begun[0].Plan.Conditions.BathTemperature != 24 {
		t.Errorf("begun %+v", s.d.begun)
	}
}

// runAll carries out commands, and those that they come to.
func runAll(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if list, ok := cmd().(tea.BatchMsg); ok {
		for _, c := range list {
			runAll(c)
		}
	}
}

// aSession is one that has only just begun.
type aSession struct {
	screen.Session
	plan *sequence.Plan
}

func (aSession) Lit() bool                 { return true }
func (aSession) Snapshot() engine.Snapshot { return engine.Snapshot{} }
func (aSession) RehearsalSpeed() float64   { return 30 }
func (aSession) Speaks() bool              { return false }
func (aSession) Events() []sequence.Event  { return nil }
func (aSession) SkipsQuiet() bool          { return false }
func (aSession) Sound() string             { return "" }
func (aSession) Sleep() string             { return "" }
func (aSession) UnsavedBecause() string    { return "" }
func (s aSession) Plan() *sequence.Plan    { return s.plan }

// Of eleven sheets, six at once, the second round is planned from the first; behind the last
// what is given is planned.
func TestNextRound(t *testing.T) {
	p := sessiontest.StarterPlan(t, "plover-tray", sequence.Conditions{})
	s := sit(t, "plover-tray", sequence.RawConditions{TotalSheets: "11"})
	next := screen.NextRound{Otherwise: screen.OpenPlan{Name: "tern-hangers"}}
	for _, want := range []string{"Round 2 of 2", "8 sheets"} {
		s.send(tea.WindowSizeMsg{Width: 200, Height: 60})
		s.m.starting = true
		s.m, _ = s.m.begun(begunMsg{session: aSession{plan: p}})
		if s.m, _ = s.m.do(next); s.m.message.fault {
			t.Fatal(s.m.message.text)
		}
		if !strings.Contains(ansi.Strip(s.m.View()), want) {
			t.Errorf("%q is not shown:\n%s", want, ansi.Strip(s.m.View()))
		}
	}
}
