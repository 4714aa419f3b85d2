package sequence

// How far each sheet developed, worked out by hand: at 20 C with k = 2 the rate
// is 1 at 20 C and 2^(1/2) at 25 C.

import (
	"math"
	"testing"
)

func TestDevelopmentsByHand(t *testing.T) {
	p := planOf(t, recipeOf(Hangers, 1, bathFor(Develop, 5*mins).at(20, 2), bathFor(Fix, 4*mins)), Conditions{})
	n := begun(t, p, 0)
	n.do(Wake{}, 5*mins)
	if d := n.s.Developments(); len(d) != 1 || d[0].Done != 5*mins || d[0].Of != 5*mins || *d[0].Bath != 20 || *d[0].Planned != 20 {
		t.Fatalf("as planned: %+v", d)
	}
	// Read a moment after the film left: 25 C, so it rose by 5 K in 5 minutes on a
	// straight line from the first dip. The mean of 2^(x/10) over x from 0 to 5 is
	// (2^0.5 - 1) / (0.5 ln 2).
	n.do(Read{T: 25, Source: ByHand}, 5*mins)
	want := (math.Sqrt2 - 1) / (0.5 * math.Ln2)
	d := n.s.Developments()
	if len(d) != 1 || math.Abs(d[0].Share()-want) > 1e-9 || *d[0].Bath != 25 || *d[0].Planned != 20 {
		t.Errorf("read at the end: %+v; want a share of %.6f", d, want)
	}
}

func TestDevelopmentsOfAFilmTestAndOfOneStillIn(t *testing.T) {
	p := planOf(t, recipeOf(Hangers, 2, Step{Kind: Develop}.taking(4*mins, 8*mins), bathFor(Fix, 4*mins)), Conditions{})
	n := begun(t, p, 0)
	n.do(Wake{}, 4*mins)
	n.do(Remark{Text: "tide is in"}, 6*mins)
	d := n.s.Developments()
	if len(d) != 2 || d[0].Of != 4*mins || d[0].Share() != 1 || d[1].Of != 8*mins || d[1].Share() != 0.75 || d[1].Bath != nil {
		t.Errorf("after six of eight minutes: %+v", d)
	}
	if y := n.s.Passages(); len(y) != 3 || y[0].Out != 4*mins || y[1].Out != Never || y[2] != (Passage{Step: 1, Sheet: 1, In: 4 * mins, Out: Never}) {
		t.Errorf("passages: %+v", y)
	}
}

// Moved on after 4 of 5 minutes: four fifths of what the plan wanted, not all of
// what was then decided.
func TestDevelopmentCutShort(t *testing.T) {
	p := planOf(t, recipeOf(Tray, 2, bathFor(Develop, 5*mins).shuffled(), bathFor(Fix, 4*mins)), Conditions{})
	n := begun(t, p, 0)
	n.do(MoveOn{}, 4*mins)
	n.do(Wake{}, 5*mins)
	for _, d := range n.s.Developments() {
		if math.Abs(d.Share()-0.8) > 1e-9 {
			t.Errorf("sheet %d: %.3f; want 0.8", d.Sheet, d.Share())
		}
	}
}
