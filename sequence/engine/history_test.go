package engine

// How far each sheet developed, worked out by hand: at 20 C with k = 2 the rate
// is 1 at 20 C and 2^(1/2) at 25 C.

import (
	"math"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

func TestDevelopmentsByHand(t *testing.T) {
	p := planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 5*recipetest.Minute), 20, 2), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n := begun(t, p, 0)
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	if d := n.s.Developments(); len(d) != 1 || d[0].Done != 5*recipetest.Minute || d[0].Of != 5*recipetest.Minute || *d[0].Bath != 20 || *d[0].Planned != 20 {
		t.Fatalf("as planned: %+v", d)
	}
	// Read a moment after the film left: 25 C, so it rose by 5 K in 5 minutes on a
	// straight line from the first sheet in. The mean of 2^(x/10) over x from 0 to 5 is
	// (2^0.5 - 1) / (0.5 ln 2).
	n.do(sequence.TakeReading{T: 25, Source: sequence.ByHand}, 5*recipetest.Minute)
	want := (math.Sqrt2 - 1) / (0.5 * math.Ln2)
	d := n.s.Developments()
	if len(d) != 1 || math.Abs(d[0].Share()-want) > 1e-9 || *d[0].Bath != 25 || *d[0].Planned != 20 {
		t.Errorf("read at the end: %+v; want a share of %.6f", d, want)
	}
}

func TestDevelopmentsOfAFilmTestAndOfOneStillIn(t *testing.T) {
	p := planOf(t, recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(sequence.Step{Kind: sequence.Develop}, 4*recipetest.Minute, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n := begun(t, p, 0)
	n.do(sequence.Wake{}, 4*recipetest.Minute)
	n.do(sequence.AddNote{Text: "tide is in"}, 6*recipetest.Minute)
	d := n.s.Developments()
	if len(d) != 2 || d[0].Of != 4*recipetest.Minute || d[0].Share() != 1 || d[1].Of != 8*recipetest.Minute || d[1].Share() != 0.75 || d[1].Bath != nil {
		t.Errorf("after six of eight minutes: %+v", d)
	}
	if y := n.s.Passages(); len(y) != 3 || y[0].Out != 4*recipetest.Minute || y[1].Out != sequence.Never || y[2] != (sequence.Passage{Step: 1, Sheet: 1, In: 4 * recipetest.Minute, Out: sequence.Never}) {
		t.Errorf("passages: %+v", y)
	}
}

// Moved on after 4 of 5 minutes: four fifths of what the plan wanted, not all of
// what was then decided.
func TestDevelopmentCutShort(t *testing.T) {
	p := planOf(t, recipetest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n := begun(t, p, 0)
	n.do(sequence.MoveOn{}, 4*recipetest.Minute)
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	for _, d := range n.s.Developments() {
		if math.Abs(d.Share()-0.8) > 1e-9 {
			t.Errorf("sheet %d: %.3f; want 0.8", d.Sheet, d.Share())
		}
	}
}
