package summary

// After a session: the result in one line, what differed, and where each key leads.

import (
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/pagetest"
	"example.org/wetside/tui/screen/runtest"
	"example.org/wetside/tui/widget"
)

// over is a session that ran to its end, with what happened on the way.
func over(t testing.TB, name string, on ...func(s *runtest.Session, wait func(time.Duration))) Model {
	t.Helper()
	now := time.Date(2024, 5, 4, 21, 0, 0, 0, time.UTC)
	s := runtest.New(t, runtest.Recipe(t, name), sequence.Conditions{}, 0, func() time.Time { return now })
	for _, f := range on {
		f(s, func(d time.Duration) { now = now.Add(d); s.Snapshot() })
	}
	if s.State.Over() == "" {
		now = now.Add(5 * time.Hour)
	}
	return New(untaught{}, screen.Env{Now: func() time.Time { return now }}, s).Sized(76, 18).(Model)
}

// untaught is a world in which no session teaches anything; taught is one in which they do.
type (
	untaught struct{}
	taught   struct{ learnt *film.Learnt }
)

func (untaught) Learnt(string) *film.Learnt { return nil }
func (w taught) Learnt(string) *film.Learnt { return w.learnt }

func body(m Model, w, h int) string { return ansi.Strip(m.View(w, h)) }

// asPlanned tells nothing but the result.
func TestAsPlanned(t *testing.T) {
	m := over(t, "stack")
	got := body(m, 76, 18)
	if !strings.HasPrefix(got, "Done. Every sheet developed to within 1%; wet 26:20, 86%") || !strings.Contains(got, "of limit.") {
		t.Errorf("the result is not first:\n%s", got)
	}
	if !strings.Contains(got, "All of it went as planned.") || strings.Contains(got, "differed") {
		t.Errorf("something differed:\n%s", got)
	}
}

// held is half a minute late into the stop bath, with a sheet set aside.
func held(s *runtest.Session, wait func(time.Duration)) {
	wait(4 * time.Minute)
	s.Do(sequence.AddNote{Text: "light at the window"})
	s.Do(sequence.SetSheetAside{Sheet: 5})
	wait(5*time.Minute + 15*time.Second)
	s.Do(sequence.Hold{})
	wait(35 * time.Second)
	s.Do(sequence.MoveOn{})
}

func TestWhatDifferedIsTold(t *testing.T) {
	got := body(over(t, "stack", held), 100, 40)
	for _, want := range []string{"differed from plan", "sheets 1–4, develop", "7:30", "107%", "sheet 5 set aside in water", "light at the window", "Held: time, development and wet time go on"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q on:\n%s", want, got)
		}
	}
	if strings.Contains(got, "Every sheet developed to within 1%") || strings.Contains(got, "sheet 3, develop") && strings.Contains(got, "100%") {
		t.Errorf("told as planned:\n%s", got)
	}
}

// That there was no sound is told in one plain sentence, and none of it is cut off.
func TestNoSoundIsToldWhole(t *testing.T) {
	m := over(t, "stack", func(s *runtest.Session, wait func(time.Duration)) {
		wait(time.Minute)
		s.Do(sequence.Report{Kind: sequence.SoundLost, Text: "NO SOUND: pulse: no sound server: /run/user/1000/pulse/native: connect: no such file; exec: none of pacat is installed"})
	})
	got := strings.Join(strings.Fields(body(m, 76, 40)), " ")
	if !strings.Contains(got, "No sound: no sound server and no player were found; wetside ready tells more") || strings.Contains(got, "/run/user") {
		t.Error(got)
	}
	for _, row := range strings.Split(body(m, 44, 60), "\n") {
		if strings.Contains(row, "…") && !strings.Contains(row, "▸") {
			t.Errorf("cut off: %q", row)
		}
	}
}

func TestKeysLeadOn(t *testing.T) {
	m := over(t, "hangers")
	for key, want := range map[string]screen.Task{"n": screen.AddNote, "v": screen.DescribeNegatives, "e": screen.DescribeEmulsion, "d": screen.ReadDensities} {
		_, a, _ := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(key)})
		if o, ok := a.(screen.OpenSession); !ok || o.Then != want || o.ID != m.session.ID() {
			t.Errorf("%s leads to %+v", key, a)
		}
	}
	for _, k := range []tea.KeyType{tea.KeyEnter, tea.KeyEscape} {
		if _, a, _ := m.Update(tea.KeyMsg{Type: k}); a != (screen.Home{}) {
			t.Errorf("%v leads to %+v", k, a)
		}
	}
	_, a, _ := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("a")})
	if next, ok := a.(screen.NextRound); !ok || next.Otherwise.Recipe == nil || next.Otherwise.Recipe.Title != m.session.Plan().Recipe.Title {
		t.Errorf("a leads to %+v", a)
	}
}

// Reading densities can be practised after a rehearsal: the foot says so.
func TestARehearsalLeadsToDensities(t *testing.T) {
	m := over(t, "hangers", func(s *runtest.Session, _ func(time.Duration)) { s.Speed = 1 })
	foot := ansi.Strip(widget.Keys(76, m.About().Foot...))
	_, a, _ := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("d")})
	if o, ok := a.(screen.OpenSession); !ok || o.Then != screen.ReadDensities || !strings.Contains(foot, "d densities") {
		t.Errorf("d leads to %+v; the foot is %q", a, foot)
	}
}

// A wide or a high window has each sheet and each step in tables; the small one has only what differed.
func TestTables(t *testing.T) {
	m := over(t, "stack", held)
	for _, size := range [][2]int{{196, 54}, {116, 34}, {76, 54}} {
		got := body(m, size[0], size[1])
		for _, row := range []string{`sheet 5 +7:30 +1:30 +20% +25:40 +set aside`, `sheet 6 +7:30 +7:50 +104% +25:30 +85%`, `stop bath +9:20 +9:50 +12:10`} {
			if !regexp.MustCompile(row).MatchString(got) {
				t.Errorf("%v: no %s on\n%s", size, row, got)
			}
		}
	}
	if got := body(m, 76, 18); strings.Contains(got, "planned at") {
		t.Error("tables in the small window")
	}
}

// Ended early by safelight or in the dark the screen stays red: film may lie open.
func TestRedWhereFilmMayBeOpen(t *testing.T) {
	end := func(after time.Duration) func(*runtest.Session, func(time.Duration)) {
		return func(s *runtest.Session, wait func(time.Duration)) { wait(after); s.Do(sequence.EndSession{}) }
	}
	for _, c := range []struct {
		recipe string
		after  time.Duration
		want   light.Light
	}{{"ortho", 2 * time.Minute, light.Safelight}, {"stack", 3 * time.Minute, light.Red}, {"stack", 20 * time.Minute, light.White}} {
		m := over(t, c.recipe, end(c.after))
		if m.Light() != c.want || !strings.HasPrefix(m.outcome, "Ended early, after ") {
			t.Errorf("%s after %v: %s, %q", c.recipe, c.after, m.Light(), m.outcome)
		}
		if told := strings.Contains(m.next(), "cover it first"); told != (c.want != light.White) {
			t.Errorf("%s after %v says %q", c.recipe, c.after, m.next())
		}
	}
	m := over(t, "stack", end(3*time.Minute))
	for _, k := range []string{"n", "v", "e", "d", "a", "enter", "esc", "q"} {
		said, action, _ := m.Update(drive.Key(k))
		if !coverIt(action) {
			t.Errorf("%s: %#v; expected that film is to be covered first", k, action)
		}
		if _, action, _ = said.Update(drive.Key(k)); action == nil || coverIt(action) {
			t.Errorf("%s once more: %#v", k, action)
		}
		between, _, _ := said.Update(drive.Key("down"))
		if _, action, _ = between.Update(drive.Key(k)); !coverIt(action) {
			t.Errorf("%s with a key between: %#v", k, action)
		}
	}
	m = over(t, "stack", func(s *runtest.Session, wait func(time.Duration)) {
		s.Speed, s.InDark = 1, true
		end(3*time.Minute)(s, wait)
	})
	if _, action, _ := m.Update(drive.Key("enter")); m.Light() == light.White || coverIt(action) {
		t.Errorf("after a rehearsal in the dark, without film, %s and %#v", m.Light(), action)
	}
	m = over(t, "stack", func(s *runtest.Session, wait func(time.Duration)) { s.Speed = 1; end(time.Minute)(s, wait) })
	if m.Light() != light.White {
		t.Errorf("a rehearsal without film is %s", m.Light())
	}
}

// coverIt reports whether an action says that film is to be covered.
func coverIt(a screen.Action) bool {
	say, ok := a.(screen.Message)
	return ok && strings.Contains(say.Text, "cover it")
}

func TestPictures(t *testing.T) {
	rehearsed := func(s *runtest.Session, _ func(time.Duration)) { s.Speed = 1 }
	for name, m := range map[string]Model{"planned": over(t, "stack"), "differed": over(t, "stack", held),
		"rehearsal": over(t, "hangers", rehearsed), "filmtest": over(t, "plover-200")} {
		drive.Picture(t, name, m, 76, 18)
	}
}

func TestEveryWindow(t *testing.T) {
	list := []Model{over(t, "stack", held), over(t, "hangers"), over(t, "plover-200")}
	rapid.Check(t, func(r *rapid.T) {
		m := rapid.SampledFrom(list).Draw(r, "session")
		w, h := rapid.IntRange(1, 220).Draw(r, "w"), rapid.IntRange(1, 70).Draw(r, "h")
		for range rapid.IntRange(0, 30).Draw(r, "keys") {
			next, _, _ := m.Update(tea.KeyMsg{Type: rapid.SampledFrom([]tea.KeyType{tea.KeyPgDown, tea.KeyUp, tea.KeyDown}).Draw(r, "key")})
			m = next.(Model)
		}
		rows := strings.Split(m.View(w, h), "\n")
		if len(rows) > h {
			r.Fatalf("%d rows of %d", len(rows), h)
		}
		for _, row := range rows {
			if n := ansi.StringWidth(row); n > w {
				r.Fatalf("%d columns of %d: %s", n, w, ansi.Strip(row))
			}
		}
	})
	m := list[0].Sized(60, 12).(Model)
	for range 60 {
		next, _, _ := m.Update(tea.KeyMsg{Type: tea.KeyPgDown})
		m = next.(Model)
	}
	if got := body(m, 60, 12); !strings.Contains(got, ".jsonl") {
		t.Errorf("the end is never reached:\n%s", got)
	}
}

// A session that no disk takes says so, in place of where it lies.
func TestUnkeptIsTold(t *testing.T) {
	m := over(t, "hangers", func(s *runtest.Session, _ func(time.Duration)) { s.Unsaved = "kept in memory alone: no space left" })
	if got := body(m, 76, 40); !strings.Contains(got, "kept in memory alone") || strings.Contains(got, ".jsonl") {
		t.Errorf("told:\n%s", got)
	}
}

// The headline of a rehearsal says how it was rehearsed (the head says what), and that it was ended early.
func TestRehearsalsHeadline(t *testing.T) {
	for want, set := range map[string]func(*runtest.Session){
		"Rehearsed in the light, 30×. ":             func(s *runtest.Session) { s.Speed = 30 },
		"Rehearsed in the dark, 30×. ":              func(s *runtest.Session) { s.Speed, s.InDark = 30, true },
		"Rehearsed with real hands, in the light. ": func(s *runtest.Session) { s.Speed, s.Moves = 1, true },
		"Rehearsed with real hands, in the dark. ":  func(s *runtest.Session) { s.Speed, s.Moves, s.InDark = 1, true, true },
	} {
		m := over(t, "stack", func(s *runtest.Session, _ func(time.Duration)) { set(s) })
		if !strings.HasPrefix(m.outcome, want+"Every sheet developed") || strings.Contains(m.outcome, "Done.") {
			t.Errorf("%q; expected %q", m.outcome, want)
		}
	}
	m := over(t, "stack", func(s *runtest.Session, wait func(time.Duration)) {
		s.Speed = 1
		wait(3 * time.Minute)
		s.Do(sequence.EndSession{})
	})
	if !strings.HasPrefix(m.outcome, "Rehearsed in the light, 1×. ") || !strings.Contains(m.outcome, "Ended early, after ") {
		t.Errorf("%q", m.outcome)
	}
}

func TestPages(t *testing.T) { pagetest.Turn(t, over(t, "stack", held)) }

// What a session taught is said once that is found out: that the negatives are to be looked at, and when they were, by
// how much the interval got narrower.
func TestWhatWasLearntIsTold(t *testing.T) {
	m := over(t, "stack")
	seconds := func(s float64) *float64 { return &s }
	after := film.LearntTime{Time: seconds(425), Low: seconds(405), High: seconds(445)}
	l := &film.Learnt{AverageGradient: 0.58, Temperature: 20, After: after, Expected: seconds(0.04)}
	m.b = taught{l}
	drive.On(t, m).Size(100, 30).Hides("Film's time").Done().Shows("Film's time at 20 °C for a gradient of 0.58: 7:05, 6:45–7:25. Nothing is learnt until the").
		Shows("if they look good, the interval then gets 4% narrower.").Fits()
	l.From, l.Before, l.Narrower, l.Expected = "look", &film.LearntTime{Time: seconds(440), Low: seconds(390), High: seconds(490)}, seconds(0.12), nil
	drive.On(t, m).Size(100, 30).Done().Shows("7:05, 6:45–7:25; before 7:20, 6:30–8:10: interval 12%")
	*l.Narrower = -0.05
	drive.On(t, m).Size(100, 30).Done().Shows("wider: this contradicts")
}
