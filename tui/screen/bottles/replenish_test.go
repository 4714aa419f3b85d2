package bottles

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem"
	"example.org/wetside/tui/screen"
)

// A developer that did six sheets at 20 ml each wants 120 ml: that stands there, can be changed, and is written down
// as typed. What is no volume, or none, is told beside it as the command tells it; esc writes nothing.
func TestReplenish(t *testing.T) {
	developer := func(h *shelf) {
		h.bottles = h.bottles[1:]
		h.bottles[0].Bath.Reuse, h.bottles[0].Area = &chem.Reuse{Longer: 0.02, Replenish: 20}, 120
	}
	d := sit(t, "", developer)
	d.shows(t, "wants 120 ml of replenisher")
	if foot := d.Screen.About().Foot; foot[1].Help().Key != "r" {
		t.Errorf("the foot of a developer: %v", foot[1].Help())
	}
	d.Press("r")
	d.shows(t, "How much replenisher was added to developer-2024-05-05", "120ml")
	d.Golden("replenish")
	if !d.Screen.About().Typing {
		t.Error("letters are taken for keys")
	}
	empty := func() { d.Send(tea.KeyMsg{Type: tea.KeyCtrlU}) }
	empty()
	d.Press("0", "m", "l", "enter")
	d.shows(t, `"0ml"; expected above zero`)
	empty()
	d.Press("q", "enter")
	d.shows(t, `cannot read "q"; expected 1l, 250ml or`)
	d.Press("esc")
	if got := d.h.named("developer-2024-05-05").Replenished; got != 0 || d.Screen.About().Typing {
		t.Fatalf("%g ml were written down", got)
	}
	d.Press("r")
	empty()
	d.Press("8", "0", "m", "l", "enter")
	if got := d.h.named("developer-2024-05-05").Replenished; got != 80 {
		t.Errorf("%g ml were written down; expected 80", got)
	}
	if got, ok := d.Last().(screen.Message); !ok || got.Fault || !strings.Contains(got.Text, "80 ml of replenisher in developer-2024-05-05") {
		t.Errorf("%+v", d.Last())
	}
	d.shows(t, "wants 40 ml of replenisher")
	fixer := sit(t, "")
	if foot := fixer.Screen.About().Foot; foot[1].Help().Key != "c" {
		t.Errorf("the foot of a fixer: %v", foot[1].Help())
	}
	fixer.Press("r")
	if view := fixer.View(80, 24); strings.Contains(view, "120") || !strings.Contains(view, "changes no time") {
		t.Errorf("asked of a bath that wants none:\n%s", view)
	}
}
