package sequence

// A countdown cut short: the film is in before 0, and everything counts from there.

import (
	"testing"

	"pgregory.net/rapid"
)

// A tank begun with two minutes of countdown; the person pours after five seconds.
func TestCountdownCutShort(t *testing.T) {
	r := recipeOf(DaylightTank, 4, bathFor(Develop, 10*mins).at(20, 2.2).drained(10*sec), bathFor(StopBath, mins))
	r.Film.WetLimit.All = 20 * mins
	n := begun(t, resolved(t, r, Conditions{}), -2*mins)
	n.do(MoveOn{}, -115*sec)
	n.do(Wake{}, 20*mins)
	expectMoved(t, n, "stop", 485) // 600 - 115
	expectMoved(t, n, "", 545)
	for _, e := range only(n.events, CueGiven) {
		if e.Cue == CueReady && e.At < 0 && e.At > -115*sec {
			t.Errorf("be ready at %v for what was poured at -1:55", e.At)
		}
	}
	if l := n.s.Look(n.s.At()); l.Wet.Total != 660*sec || l.Wet.Session != 660*sec {
		t.Errorf("wet for %v in %v; expected 11:00", l.Wet.Total, l.Wet.Session)
	}
}

// Sheets of a stack follow the first load_every apart, wherever that is.
func TestCountdownOfStackCutShort(t *testing.T) {
	n := begun(t, resolved(t, three(), Conditions{}), -2*mins)
	n.do(MoveOn{}, -100*sec)
	n.do(Wake{}, 0)
	expectMoved(t, n, "presoak", -100, -85, -70)
}

// However early the first sheet goes in, the session after it is the plan, moved there.
func TestCountdownShiftsThePlan(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		for i := range p.Steps {
			p.Steps[i].Wait = false
			if p.Conditions.Towards != nil && p.Steps[i].Works != nil {
				r.Skip("a drifting bath does not move with the film")
			}
		}
		early := seconds(r, 1, 280, "early")
		n := begun(t, p, -5*mins)
		n.do(MoveOn{}, -early)
		n.do(Wake{}, 24*60*mins)
		film := n.s.Look(n.s.At()).Film
		for i, y := range p.Passages {
			if got := film[i]; !near(got.In, y.In-early) || !near(got.Out, y.Out-early) {
				r.Fatalf("step %d sheet %d from %v to %v; planned %v to %v, and begun %v early", y.Step, y.Sheet, got.In, got.Out, y.In, y.Out, early)
			}
		}
	})
}
