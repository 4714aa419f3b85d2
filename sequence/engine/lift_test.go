package engine

// A bath that waits for the person: nothing is lifted before the word, and it drips after.

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// waiting is four sheets in hangers whose presoak waits, with ten seconds of drain.
func waiting() sequence.Recipe {
	soak := recipetest.Drained(recipetest.Continuous(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)), 10*recipetest.Second)
	soak.WaitForPerson = true
	return recipetest.Recipe(sequence.Hangers, 4, soak, recipetest.Bath(sequence.Develop, 8*recipetest.Minute))
}

func drains(n *session) []float64 {
	var list []float64
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
		if e.Cue == sequence.CueDrain {
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
	n := begun(t, planOf(t, waiting(), sequence.Conditions{}), 0)
	if l := n.s.Snapshot(0); l.End != 610*recipetest.Second {
		t.Errorf("ends at %v; expected 10:10, with ten seconds of drain behind a press", l.End)
	}
	n.do(sequence.Wake{}, 130*recipetest.Second) // up at 2:00
	expectDrains(t, n)
	if h, _ := n.s.Hands(115 * recipetest.Second); h.Do != sequence.Agitating {
		t.Errorf("%s while it waits", h.Do)
	}
	n.do(sequence.MoveOn{}, 140*recipetest.Second)
	expectDrains(t, n, 140)
	if h, _ := n.s.Hands(145 * recipetest.Second); h.Do != sequence.Draining || h.Until != 150*recipetest.Second {
		t.Errorf("after the press %+v; expected drain until 2:30", h)
	}
	n.do(sequence.Wake{}, 160*recipetest.Second)
	expectMoved(t, n, "develop", 150)

	// Early: the same.
	n = begun(t, planOf(t, waiting(), sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 60*recipetest.Second)
	n.do(sequence.Wake{}, 80*recipetest.Second)
	expectDrains(t, n, 60)
	expectMoved(t, n, "develop", 70)

	// A second press moves at once; one taken back lifts nothing.
	n = begun(t, planOf(t, waiting(), sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 130*recipetest.Second)
	n.do(sequence.MoveOn{}, 133*recipetest.Second)
	expectMoved(t, n, "develop", 133)
	n = begun(t, planOf(t, waiting(), sequence.Conditions{}), 0)
	n.do(sequence.MoveOn{}, 130*recipetest.Second)
	n.do(sequence.Undo{}, 133*recipetest.Second)
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	expectMoved(t, n, "develop")

	// A hold ends with the press.
	n = begun(t, planOf(t, waiting(), sequence.Conditions{}), 0)
	n.do(sequence.Hold{}, 100*recipetest.Second)
	n.do(sequence.MoveOn{}, 200*recipetest.Second)
	n.do(sequence.Wake{}, 220*recipetest.Second)
	expectDrains(t, n, 200)
	expectMoved(t, n, "develop", 210)
}

// In a stack the first sheet drains at the press, and the rest follow it.
func TestTheDrainOfAStackFollowsThePress(t *testing.T) {
	soak := recipetest.Drained(recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)), 5*recipetest.Second)
	soak.WaitForPerson = true
	n := begun(t, planOf(t, recipetest.Recipe(sequence.Tray, 3, soak, recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute))), sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 4*recipetest.Minute) // up at 2:30
	expectDrains(t, n)
	n.do(sequence.MoveOn{}, 4*recipetest.Minute)
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	expectDrains(t, n, 240, 250, 260) // move_every apart
	expectMoved(t, n, "develop", 245, 255, 265)
}

// Whatever is done: where a bath waits its first drain comes after the person's word.
func TestNothingDrainsUnasked(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		n := live(t, p, anyCommands(r), 10*recipetest.Second, asleep)
		asked := map[string]bool{}
		for _, e := range n.events {
			switch {
			case e.Act != 0:
				asked[e.Step] = true
				if i := p.StepIndex(e.Step); e.Kind == sequence.Transferred && i > 0 {
					asked[p.StepName(i-1)] = true
				}
			case e.Kind == sequence.CueGiven && e.Cue == sequence.CueDrain && p.Steps[p.StepIndex(e.Step)].WaitForPerson && !asked[e.Step]:
				r.Fatalf("unasked: %s\n%s", describe(e), recipetest.KindsOf(n.events))
			}
		}
	})
}

// Two sheets of a film test that leave a presoak at one instant, when the person says so, are
// announced together, as the plan has it: twenty seconds before they are lifted.
func TestWhatLeavesTogetherIsAnnouncedTogether(t *testing.T) {
	presoak := recipetest.Drained(recipetest.Bath(sequence.Presoak, 30*recipetest.Second), recipetest.Second)
	presoak.WaitForPerson = true
	develop := recipetest.Pulled(recipetest.Bath(sequence.Develop, 2*recipetest.Minute), 2*recipetest.Minute, 2*recipetest.Minute)
	develop.LeaveTogether = true
	p := planOf(t, recipetest.Recipe(sequence.SingleTrays, 2, presoak, develop, recipetest.Bath(sequence.StopBath, 30*recipetest.Second)), sequence.Conditions{})
	n := begun(t, p, 0)
	n.pressWhenAsked(10 * recipetest.Minute)
	var ready []sequence.Elapsed
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
		if e.Cue == sequence.CueReady && e.Step == "presoak" {
			ready = append(ready, e.At)
		}
	}
	if want := []sequence.Elapsed{10 * recipetest.Second, 10 * recipetest.Second}; !slices.Equal(ready, want) {
		t.Errorf("announced at %v; expected %v", ready, want)
	}
}
