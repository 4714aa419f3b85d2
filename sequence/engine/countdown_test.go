package engine

// A countdown cut short: the film is in before 0, and everything counts from there.

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// A tank begun with two minutes of countdown; the person pours after five seconds.
func TestCountdownCutShort(t *testing.T) {
	r := recipetest.Recipe(sequence.DaylightTank, 4, recipetest.Drained(recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2.2), 10*recipetest.Second), recipetest.Bath(sequence.StopBath, recipetest.Minute))
	r.Film.WetLimit.All = 20 * recipetest.Minute
	n := begun(t, planOf(t, r, sequence.Conditions{}), -2*recipetest.Minute)
	n.do(sequence.MoveOn{}, -115*recipetest.Second)
	n.do(sequence.Wake{}, 20*recipetest.Minute)
	expectMoved(t, n, "stop", 485) // 600 - 115
	expectMoved(t, n, "", 545)
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
		if e.Cue == sequence.CueReady && e.At < 0 && e.At > -115*recipetest.Second {
			t.Errorf("be ready at %v for what was poured at -1:55", e.At)
		}
	}
	if l := n.s.Snapshot(n.s.At()); l.Wet.Total != 660*recipetest.Second || l.Wet.Session != 660*recipetest.Second {
		t.Errorf("wet for %v in %v; expected 11:00", l.Wet.Total, l.Wet.Session)
	}
}

// Sheets of a stack follow the first load_every apart, wherever that is.
func TestCountdownOfStackCutShort(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), -2*recipetest.Minute)
	n.do(sequence.MoveOn{}, -100*recipetest.Second)
	n.do(sequence.Wake{}, 0)
	expectMoved(t, n, "presoak", -100, -85, -70)
}

// However early the first sheet goes in, the session after it is the plan, moved there.
func TestCountdownShiftsThePlan(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := anyPlan(r)
		for i := range p.Steps {
			if p.Conditions.SettlesAt != nil && p.Steps[i].TimeByTemperature != nil {
				r.Skip("a drifting bath does not move with the film")
			}
		}
		early := recipetest.Seconds(r, 1, 280, "early")
		n := begun(t, p, -5*recipetest.Minute)
		n.do(sequence.MoveOn{}, -early)
		n.pressWhenAsked(24 * 60 * recipetest.Minute)
		film := n.s.Snapshot(n.s.At()).Passages
		for i, y := range p.Passages {
			if got := film[i]; !recipetest.Near(got.In, y.In-early) || !recipetest.Near(got.Out, y.Out-early) {
				r.Fatalf("step %d sheet %d from %v to %v; planned %v to %v, and begun %v early", y.Step, y.Sheet, got.In, got.Out, y.In, y.Out, early)
			}
		}
	})
}
