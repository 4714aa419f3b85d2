package tui

// In the dark nothing is lit, one touch only answers and two act.

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"example.org/wetside/sequence"
)

func TestLightsOutForLoading(t *testing.T) {
	d := sit(t, with("stack"), noSound).press("enter")
	if d.m.screen != prepareScreen || d.m.dark {
		t.Fatal("preparing begins dark, or elsewhere")
	}
	d.big().big() // panel, sound
	d.shows("goes black")
	d.big()
	d.isDark()
	if d.h.lit() != sequence.Dark {
		t.Errorf("the host was told %q; expected dark", d.h.lit())
	}
	if len(d.h.begun) != 0 {
		t.Error("a session has begun before the film is loaded")
	}
	d.now = d.now.Add(3 * time.Second)
	d.twice(" ").done()
	if len(d.h.begun) != 1 || len(d.h.begun[0].Notes) != 3 {
		t.Fatalf("begun: %+v; expected one with all answers", d.h.begun)
	}
	d.isDark()
}

// Escape, twice, brings the light back while the film is in its holders.
func TestLightBackBeforeLoading(t *testing.T) {
	d := loading(t, "stack").press("esc")
	d.isDark()
	d.now = d.now.Add(time.Second)
	d.press("esc")
	d.shows("nothing has begun")
	if d.h.lit() != sequence.Safelight || len(d.h.begun) != 0 {
		t.Errorf("light %q, begun %d", d.h.lit(), len(d.h.begun))
	}
}

func TestOneTouchAnswersTwoAct(t *testing.T) {
	d := inDark(t, "stack")
	s := d.session()
	d.press(" ")
	if s.answers != 1 || s.last() != nil {
		t.Fatalf("one touch: %d answers, asked %T; expected an answer alone", s.answers, s.last())
	}
	d.now = d.now.Add(time.Second)
	d.press(" ")
	if _, ok := s.last().(sequence.MoveOn); !ok {
		t.Errorf("two touches asked %T; expected MoveOn", s.last())
	}
	d.isDark()
}

// There is no triple press: the third of three quick touches is a first one again.
func TestThreeTouchesActOnce(t *testing.T) {
	d := inDark(t, "stack")
	for range 3 {
		d.press(" ")
		d.now = d.now.Add(700 * time.Millisecond)
	}
	if s := d.session(); s.answers != 2 || len(s.did) != 1 {
		t.Errorf("%d answers, %d acts; expected two and one", s.answers, len(s.did))
	}
}

// A key that bounces, or is held down, counts once, for however long.
func TestHeldKeyCountsOnce(t *testing.T) {
	d := inDark(t, "stack")
	for range 200 {
		d.press(" ")
		d.now = d.now.Add(30 * time.Millisecond)
	}
	if s := d.session(); s.answers != 1 || s.last() != nil {
		t.Errorf("%d answers, asked %T; expected one answer and nothing asked", s.answers, s.last())
	}
}

// Two touches more than two seconds apart are two first touches.
func TestSlowTouchesNeverAct(t *testing.T) {
	d := inDark(t, "stack")
	for range 5 {
		d.press(" ")
		d.now = d.now.Add(2100 * time.Millisecond)
	}
	if s := d.session(); s.answers != 5 || s.last() != nil {
		t.Errorf("%d answers, asked %T; expected five answers", s.answers, s.last())
	}
}

// Light comes only when it was offered, and only by two touches.
func TestOfferedLightComesByTwoTouches(t *testing.T) {
	d := inDark(t, "stack")
	for d.now = d.now.Add(time.Minute); !d.session().Snapshot().LightOffered; d.wait(10 * time.Second) {
		d.isDark()
		if d.session().Snapshot().Over != "" {
			t.Fatal("light was never offered")
		}
	}
	d.wait(time.Minute)
	d.isDark()
	d.twice(" ")
	if d.m.dark || d.h.lit() != sequence.Safelight {
		t.Fatal("the light did not come")
	}
	d.wait(time.Second)
	d.shows("Plover")
}

// The screen stays dark when the session is over, until two touches.
func TestDarkOutlivesTheSession(t *testing.T) {
	d := inDark(t, "stack")
	d.wait(3 * time.Hour)
	d.isDark()
	if d.session().Snapshot().Over == "" {
		t.Fatal("the session is not over")
	}
	d.twice(" ").wait(time.Second)
	if d.m.screen != summaryScreen {
		t.Errorf("screen %d after two touches; expected the last", d.m.screen)
	}
}

// Whatever comes, no cell is lit while the screen is dark, and it leaves the dark on
// the second touch of a key alone: the big one where light was offered or all is
// over, escape where no session is going on.
func TestNothingLightsTheDark(t *testing.T) {
	keys := []string{" ", " ", "pgdown", "esc", "enter", "q", "ctrl+c", "up", "down", "left", "h", "u", "l", "t", "n", "s", "w", "m", "m", "5", "?", "tab", "f1", "f5"}
	rapid.Check(t, func(r *rapid.T) {
		d := inDark(t, rapid.SampledFrom([]string{"stack", "hangers", "test", "twice"}).Draw(r, "recipe"))
		if rapid.Bool().Draw(r, "loading") {
			d = loading(t, "stack")
		}
		for range rapid.IntRange(1, 60).Draw(r, "messages") {
			key := ""
			waiting := d.m.bigPress.first
			offered := false
			switch rapid.IntRange(0, 5).Draw(r, "kind") {
			case 0:
				d.size(rapid.IntRange(0, 300).Draw(r, "w"), rapid.IntRange(0, 100).Draw(r, "h"))
			case 1:
				d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(rapid.String().Draw(r, "pasted")), Paste: true})
			case 2:
				d.wait(time.Duration(rapid.IntRange(0, 200).Draw(r, "seconds")) * time.Second)
			case 3:
				d.send(begunMsg{err: errNoRoom})
			default:
				key = rapid.SampledFrom(keys).Draw(r, "key")
				d.now = d.now.Add(time.Duration(rapid.IntRange(0, 2500).Draw(r, "ms")) * time.Millisecond)
				// Light may be offered between two touches: the second is what counts.
				offered = d.m.screen == runScreen && (d.session().Snapshot().LightOffered || d.session().Snapshot().Over != "")
				d.press(key)
			}
			if d.m.dark {
				d.isDark()
				continue
			}
			big := (key == " " || key == "pgdown") && !waiting.IsZero() && offered
			if !big && !(key == "esc" && d.m.screen != runScreen) {
				r.Fatalf("the screen left the dark by %q", key)
			}
			return
		}
	})
}
