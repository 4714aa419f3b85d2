package sounds

// Each sound is heard as the cursor comes to it, under what it asks for.

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/widget"
)

// ear has sounds and remembers what was played.
type ear struct {
	list   []screen.Sound
	played []string
}

func (e *ear) Sounds() []screen.Sound { return e.list }
func (e *ear) Play(name string)       { e.played = append(e.played, name) }
func (e *ear) Sound() string          { return "sound: the first loudspeaker" }

// all is what the program teaches.
func all() *ear {
	e := &ear{}
	for _, k := range cue.Kinds() {
		e.list = append(e.list, screen.Sound{Name: string(k), Says: cue.Describe(k)})
	}
	return e
}

func TestPlayedOneByOne(t *testing.T) {
	e := &ear{list: []screen.Sound{{Name: "chosen", Says: "x"}, {Name: "wet-limit", Says: "five: the limit"}, {Name: "turn", Says: "one: the bottom sheet to the top"}}}
	m := New(e)
	if len(e.played) != 0 {
		t.Error("heard before it was asked for")
	}
	m, a, _ := drive.Press(m, "enter", "down", "down", "down", "up", "space")
	if a != nil || m.list[m.at].Name != "wet-limit" {
		t.Errorf("at %d, %#v", m.at, a)
	}
	if _, a, _ = drive.Press(m, "esc"); a != (screen.Back{}) {
		t.Errorf("esc: %#v", a)
	}
	if want := []string{"turn", "wet-limit", "chosen", "chosen", "wet-limit", ""}; !slices.Equal(e.played, want) {
		t.Errorf("played %q; expected %q", e.played, want)
	}
	if view := ansi.Strip(m.View(76, 18)); !strings.Contains(view, "The limit.\nFive.") {
		t.Error(view)
	}
}

// Every sound that there is has a group, in the order of the groups, and a name of its own.
func TestGroups(t *testing.T) {
	m := New(all())
	seen, last, n := map[string]bool{}, hands, map[group]int{}
	for _, s := range m.list {
		if seen[called(s.Name)] || groupOf(s.Name) < last {
			t.Errorf("%s: called %q, group %d after %d", s.Name, called(s.Name), groupOf(s.Name), last)
		}
		seen[called(s.Name)], last = true, groupOf(s.Name)
		n[last]++
	}
	if n[warnings] != 4 || n[menu] != len(cue.Signals) || len(m.list) != len(cue.Kinds()) {
		t.Errorf("%v of %d", n, len(m.list))
	}
}

// Beside what is told of one, no row is cut, and the session's end is called so.
func TestNoRowIsCut(t *testing.T) {
	view := ansi.Strip(New(all()).View(116, 60))
	if strings.Contains(view, "…") || !strings.Contains(view, "end session") {
		t.Error(view)
	}
}

// That there is no sound is one sentence, whatever failed.
func TestNoSound(t *testing.T) {
	if got := whereItGoes("NO SOUND: pulse: dial unix: no such file; alsa: exit status 1"); got != "No sound comes out of this computer now: wetside ready says why." {
		t.Error(got)
	}
}

func TestPicture(t *testing.T) {
	m, _, _ := drive.Press(New(all()), "down")
	drive.Picture(t, "list", m, 76, 18)
	drive.Picture(t, "wide", m, 116, 34)
	drive.Picture(t, "empty", New(&ear{}), 76, 18)
}

func TestFitsEveryWindow(t *testing.T) {
	m := New(all())
	rapid.Check(t, func(rt *rapid.T) {
		s := m
		s.at = rapid.IntRange(0, len(m.list)-1).Draw(rt, "at")
		w, h := rapid.IntRange(36, 196).Draw(rt, "w"), rapid.IntRange(8, 56).Draw(rt, "h")
		view := s.View(w, h)
		if rows := strings.Count(view, "\n") + 1; rows > h || widget.Width(view) > w || !strings.Contains(view, "▌") {
			rt.Fatalf("%d rows %d wide in %dx%d\n%s", rows, widget.Width(view), w, h, ansi.Strip(view))
		}
	})
}
