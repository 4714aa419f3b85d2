package sequence

// A bath that waits for the person: nothing is lifted before the word, and it drips after.

import (
	"testing"

	"pgregory.net/rapid"
)

// waiting is four sheets in hangers whose presoak waits, with ten seconds of drain.
func waiting() Recipe {
	soak := bathFor(Presoak, 2*mins).steadily().drained(10 * sec)
	soak.Wait = true
	return recipeOf(Hangers, 4, soak, bathFor(Develop, 8*mins))
}

func drains(n *session) []float64 {
	var list []float64
	for _, e := range only(n.events, CueGiven) {
		if e.Cue == CueDrain {
			list = append(list, e.At.Seconds())
		}
	}
	return list
}

func expectDrains(t *testing.T, n *session, want ...float64) {
	t.Helper()
	got := drains(n)
	if len(got) != len(want) {
		t.Fatalf("drains at %v; expected %v", got, want)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("drains at %v; expected %v", got, want)
		}
	}
}

func TestTheDrainFollowsThePress(t *testing.T) {
	n := begun(t, resolved(t, waiting(), Conditions{}), 0)
	n.do(Wake{}, 130*sec) // up at 2:00
	expectDrains(t, n)
	if h, _ := n.s.Hands(115 * sec); h.Do != Agitating {
		t.Errorf("%s while it waits", h.Do)
	}
	n.do(MoveOn{}, 140*sec)
	expectDrains(t, n, 140)
	if h, _ := n.s.Hands(145 * sec); h.Do != Draining || h.Until != 150*sec {
		t.Errorf("after the press %+v; expected drain until 2:30", h)
	}
	n.do(Wake{}, 160*sec)
	expectMoved(t, n, "develop", 150)

	// Early: the same.
	n = begun(t, resolved(t, waiting(), Conditions{}), 0)
	n.do(MoveOn{}, 60*sec)
	n.do(Wake{}, 80*sec)
	expectDrains(t, n, 60)
	expectMoved(t, n, "develop", 70)

	// A second press moves at once; one taken back lifts nothing.
	n = begun(t, resolved(t, waiting(), Conditions{}), 0)
	n.do(MoveOn{}, 130*sec)
	n.do(MoveOn{}, 133*sec)
	expectMoved(t, n, "develop", 133)
	n = begun(t, resolved(t, waiting(), Conditions{}), 0)
	n.do(MoveOn{}, 130*sec)
	n.do(Undo{}, 133*sec)
	n.do(Wake{}, 5*mins)
	expectMoved(t, n, "develop")

	// A hold ends with the press.
	n = begun(t, resolved(t, waiting(), Conditions{}), 0)
	n.do(Hold{}, 100*sec)
	n.do(MoveOn{}, 200*sec)
	n.do(Wake{}, 220*sec)
	expectDrains(t, n, 200)
	expectMoved(t, n, "develop", 210)
}

// In a stack the first sheet drains at the press, and the rest follow it.
func TestTheDrainOfAStackFollowsThePress(t *testing.T) {
	soak := bathFor(Presoak, 2*mins).shuffled().drained(5 * sec)
	soak.Wait = true
	n := begun(t, resolved(t, recipeOf(Tray, 3, soak, bathFor(Develop, 8*mins).shuffled()), Conditions{}), 0)
	n.do(Wake{}, 4*mins) // up at 2:30
	expectDrains(t, n)
	n.do(MoveOn{}, 4*mins)
	n.do(Wake{}, 5*mins)
	expectDrains(t, n, 240, 250, 260) // move_every apart
	expectMoved(t, n, "develop", 245, 255, 265)
}

// Whatever is done: where a bath waits its first drain comes after the person's word.
func TestNothingDrainsUnasked(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n := live(t, p, anyCommands(r), 10*sec, asleep)
		asked := map[string]bool{}
		for _, e := range n.events {
			switch {
			case e.Act != 0:
				asked[e.Step] = true
				if i := p.step(e.Step); e.Kind == Moved && i > 0 {
					asked[p.name(i-1)] = true
				}
			case e.Kind == CueGiven && e.Cue == CueDrain && p.Steps[p.step(e.Step)].Wait && !asked[e.Step]:
				r.Fatalf("unasked: %s\n%s", describe(e), kinds(n.events))
			}
		}
	})
}
