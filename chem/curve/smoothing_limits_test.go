package curve

// The error of readings, and smoothing, where they can be worked out: polynomials, and the limits of a penalty.

import (
	"math"
	"slices"
	"testing"
)

// A curve of the fourth power has third differences of 24 i + 36 of its factor, over the root of 20 each (arithmetic): of eight readings
// the middle one is 84, of six 60. What is over four medians over 0.6745 counts as that: of fourteen with one off by 0.02 four.
func TestReadingErrorOfAFourthPower(t *testing.T) {
	fourth := func(n int, c float64) (k Curve) {
		for i := range n {
			k.Readings = append(k.Readings, Reading{LogH(0.15 * float64(i)), Density(0.1 + c*math.Pow(float64(i), 4))})
		}
		return k
	}
	for n, want := range map[int]float64{8: 84, 6: 60, 5: 0.02 * math.Sqrt(20) * 0.6745 / 0.001} {
		if got := fourth(n, 0.001).readingError(); !(math.Abs(float64(got)/(0.001*want/math.Sqrt(20)/0.6745)-1) <= 1e-9) {
			t.Errorf("%d readings: %g; expected %g", n, float64(got), 0.001*want/math.Sqrt(20)/0.6745)
		}
	}
	const c = 1e-5
	k := fourth(14, c)
	k.Readings[6].Density += 0.02
	var off []float64
	for i := range 11 {
		d := c * (24*float64(i) + 36)
		if at := 6 - i; at >= 0 && at <= 3 {
			d += 0.02 * []float64{-1, 3, -3, 1}[at]
		}
		off = append(off, math.Abs(d)/math.Sqrt(20))
	}
	sorted, sum := slices.Sorted(slices.Values(off)), 0.0
	for _, d := range off {
		sum += math.Pow(min(d, 4*sorted[5]/0.6745), 2)
	}
	if got, ok := readingErrorOf([]Curve{k}); !ok || !(math.Abs(float64(got)/math.Sqrt(sum/11)-1) <= 1e-6) {
		t.Errorf("%g, %v; expected %g", float64(got), ok, math.Sqrt(sum/11))
	}
	// four neighbours over 0.60 log H tell, two stops (0.602) and a hundredth counting as that
	for step, want := range map[float64]int{0.2: 1, 0.203: 1, 0.204: 0} {
		if got := thirdDifferences([]float64{0, step, 2 * step, 3 * step}, []float64{0, 1, 0, 1}); len(got) != want {
			t.Errorf("%g apart: %v; expected %d", step, got, want)
		}
	}
	if got := fourth(20, 1e-6).suspects(0); len(got) != 0 {
		t.Errorf("a smooth curve has slips: %+v", got)
	}
	k = fourth(20, 1e-6)
	if k.Readings[9].Density += 0.5; len(k.suspects(0)) != 1 || k.suspects(0)[0].Step != 10 {
		t.Errorf("%+v; expected the tenth", k.suspects(0))
	}
}

// What a curve's readings have of themselves in their own smooth values: all where nothing is penalised, and a straight line's two where
// any bend is (the limits of a smoothing spline).
func TestTheLimitsOfSmoothing(t *testing.T) {
	s := newSmoother([]float64{0, 0.1, 0.3, 0.45, 0.5, 0.8, 0.9})
	for lambda, want := range map[float64]float64{0: 7, 1e9: 2} {
		if s.penalise(lambda); !(math.Abs(s.trace()-want) <= 1e-3) {
			t.Errorf("a penalty of %g leaves %g; expected %g", lambda, s.trace(), want)
		}
	}
}
