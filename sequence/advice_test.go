package sequence

// The one thing that can still be done: followed to the second, it comes to what it
// was said to come to.

import (
	"strings"
	"testing"
)

// advised is a session of slow() brought to a moment of its fixing.
func advised(t *testing.T, limit Elapsed, until Elapsed) *session {
	t.Helper()
	r := slow()
	r.Steps[4].Vessel = Hangers
	r.Film.WetLimit = WetLimit{All: limit}
	n := begun(t, planOf(t, r, Conditions{}), 0)
	n.do(Wake{}, until)
	return n
}

func TestAdviceFollowedKeepsItsWord(t *testing.T) {
	n := advised(t, 48*mins, 20*mins)
	a, ok := n.s.Advise(20 * mins)
	if !ok || !strings.HasPrefix(a.Text, "wash for 6:00 is enough: move on at ") {
		t.Fatalf("advised %q; expected the shorter wash, which alone keeps the limit", a.Text)
	}
	for n.s.where(n.s.plan.Sheets-1) < 4 { // until the last sheet hangs in the wash
		at, _ := n.s.Due()
		n.do(Wake{}, at)
	}
	_, last, _, _ := span(n.s.moves.film.row(n.s.plan, 4))
	n.do(MoveOn{}, last+6*mins)
	if w := n.s.Look(last + 6*mins).Wet; n.s.Over() != SessionDone || *w.Margin != *a.Margin {
		t.Errorf("followed, %v is left; %v was said", *w.Margin, *a.Margin)
	}
}

// What the row is held for counts first; where nothing helps nothing is said; the
// kindest that suffices goes before one that saves more.
func TestWhatIsAdvised(t *testing.T) {
	n := advised(t, 48*mins, 20*mins)
	n.do(Hold{}, 20*mins)
	n.do(Wake{}, 28*mins)
	if a, _ := n.s.Advise(28 * mins); !strings.HasPrefix(a.Text, "go on: fix is ") {
		t.Errorf("held: %q; expected to be told to go on", a.Text)
	}
	n = advised(t, 48*mins, 59*mins)
	if a, ok := n.s.Advise(59 * mins); ok && strings.Contains(a.Text, "fix") {
		t.Errorf("after fixing: %q", a.Text)
	}
	r := recipeOf(Hangers, 1, bathFor(Develop, 8*mins), bathFor(Fix, 5*mins))
	m := begun(t, planOf(t, r, Conditions{}), 0)
	if a, ok := m.s.Advise(mins); ok {
		t.Errorf("nothing can be shortened, but: %q", a.Text)
	}
	if got := (Advice{}).Say(false); !strings.Contains(got, "nothing more") {
		t.Errorf("said %q", got)
	}
}
