package sequence

import (
	"math"
	"testing"
	"time"
)

// A tested time covers what a hand makes of it: within 5 s.
func TestGrowthCoversWhatAHandKeeps(t *testing.T) {
	g := Growth{Limit: 1, K: 0.1, Tested: []TestedTime{{Time: 5 * time.Minute}, {Time: 10 * time.Minute}}}
	for seconds, want := range map[int]bool{294: false, 296: true, 450: true, 604: true, 606: false} {
		if got := g.Covers(time.Duration(seconds) * time.Second); got != want {
			t.Errorf("%d s: %v; expected %v", seconds, got, want)
		}
	}
}

// The slope is the curve's own, by differences, also after a time of induction.
func TestGrowthSlopeIsTheCurves(t *testing.T) {
	for _, induction := range []float64{0, 1.5} {
		g := Growth{Limit: 1.2, K: 0.11, Induction: induction}
		at := 7 * time.Minute
		rise := g.At(at+70*time.Millisecond) - g.At(at-70*time.Millisecond) // a six-thousandth of the time more and less
		if want := rise / (2 * 0.07 / 420); math.Abs(g.Slope(at)-want) > 1e-5 {
			t.Errorf("induction %g: %.6f; by differences %.6f", induction, g.Slope(at), want)
		}
	}
}
