package engine

import (
	"slices"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// "Ready comes 20 s before each move or pour", where there are 20 s.
func TestReady(t *testing.T) {
	p := planOf(t, recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.StopBath, 15*recipetest.Second), recipetest.Bath(sequence.Fix, 20*recipetest.Second)), sequence.Conditions{})
	recipetest.ExpectInstants(t, "ready", recipetest.CuesOf(p.Cues, sequence.CueReady, ""), 460, 495)
	n := begun(t, p, -30*recipetest.Second)
	n.do(sequence.Wake{}, recipetest.Second)
	if c := recipetest.EventsOf(n.events, sequence.CueGiven); len(c) < 2 || c[0].Cue != sequence.CueReady || c[0].At != -20*recipetest.Second {
		t.Errorf("during the lead: %s; expected ready at -20 s", recipetest.KindsOf(c))
	}
}

// Moved on early out of the fixer, before lights_on_after: the last sheet has not
// had its least time there, so nothing is offered until the next lighter step.
func TestNoLightAfterAFixCutShort(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.LightsOnAfter(recipetest.Bath(sequence.Fix, 5*recipetest.Minute), 2*recipetest.Minute),
		recipetest.Bath(sequence.Rinse, 5*recipetest.Minute), recipetest.Lit(recipetest.Bath(sequence.Wash, 5*recipetest.Minute), sequence.White))
	n := begun(t, planOf(t, r, sequence.Conditions{}), 0)
	n.do(sequence.Wake{}, 500*recipetest.Second)
	n.do(sequence.MoveOn{}, 510*recipetest.Second) // 30 s in the fixer
	n.do(sequence.Wake{}, 20*recipetest.Minute)
	var offers []sequence.Elapsed
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
		if e.Cue == sequence.CueLightsOffer {
			offers = append(offers, e.At)
		}
	}
	if !slices.Equal(offers, []sequence.Elapsed{810 * recipetest.Second}) {
		t.Errorf("light offered at %v; expected at 810 s, with the wash", offers)
	}
}
