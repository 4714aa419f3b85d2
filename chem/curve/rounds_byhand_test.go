package curve

// Rounds of the bootstrap where nothing is left to chance, or chance is known; gamma and contrast index by accounts of their own.

import (
	"math"
	"slices"
	"testing"
)

// straightFit is a straight line of slope 0.7 from base plus fog 0.1 at log H -2, drawn as it is.
func straightFit(t *testing.T, n int, step float64) *fitResult {
	t.Helper()
	base := Density(0.1)
	c := Curve{Base: &base}
	for i := range n {
		c.Readings = append(c.Readings, Reading{LogH(-2 + step*float64(i)), Density(0.1 + 0.7*step*float64(i))})
	}
	d, err := fitCurve(c, 0)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Without errors of reading a scatter of 10 % makes gradient and gamma of a straight line 0.7 (1 + 0.1 z), z the normal
// quantiles of 1/8, 3/8, 5/8 and 7/8: -1.15035, -0.31864 and the same above (printed tables); and the 0.10 over base plus fog of its speed
// point 0.10 (1 + 0.1 z).
func TestRoundsOfAScatterAlone(t *testing.T) {
	seen := straightFit(t, 17, 0.15).bootstrap(0, 4, 1).run(0, 0.1, true)
	for i, z := range []float64{-1.15035, -0.31864, 0.31864, 1.15035} {
		want := 0.7 * (1 + 0.1*z)
		for what, list := range map[string][]float64{"gradient": seen.gradient, "gamma": seen.gamma, "index": seen.index} {
			slices.Sort(list)
			if len(list) != 4 || !(math.Abs(list[i]-want) <= 1e-5) {
				t.Errorf("%s: %v; expected %.5f in place %d", what, list, want, i)
			}
		}
		if slices.Sort(seen.over); len(seen.over) != 4 || !(math.Abs(seen.over[i]-0.01*z) <= 1e-6) {
			t.Errorf("over 0.10 by %v; expected %.5f in place %d", seen.over, 0.01*z, i)
		}
	}
}

// Errors by hand. Those of base plus fog alone, 0.02, move the speed point of a line of slope 0.7 by 0.02/0.7. Those of five
// readings at steps of 0.15 put the slope of their line off by e/(0.15 sqrt(10)), twice as much where readings are known half
// as well. 4,000 rounds tell a standard deviation to 1.1 %: four of those.
func TestRoundsOfErrorsAlone(t *testing.T) {
	sd := func(list []float64) float64 {
		mean, square := 0.0, 0.0
		for _, v := range list {
			mean += v / float64(len(list))
			square += v * v / float64(len(list))
		}
		return math.Sqrt(square - mean*mean)
	}
	const rounds = 4000
	d := straightFit(t, 17, 0.15)
	d.baseErr = 0.02
	if got := sd(d.bootstrap(0, rounds, 1).run(1e-9, 0, false).speedPoint); !(math.Abs(got*0.7/0.02-1) <= 0.045) {
		t.Errorf("the speed point is off by %.4f; expected %.4f", got, 0.02/0.7)
	}
	for _, times := range []float64{1, 2} {
		d := straightFit(t, 5, 0.15)
		d.variances = slices.Repeat([]float64{times * times}, 5)
		if got := sd(d.bootstrap(0, rounds, 1).run(0.02, 0, false).gamma); !(math.Abs(got*0.15*math.Sqrt(10)/(0.02*times)-1) <= 0.045) {
			t.Errorf("gamma is off by %.4f; expected %.4f", got, 0.02*times/(0.15*math.Sqrt(10)))
		}
	}
}

// Half of the rounds must reach a value, and ten tell what readings leave; a bias is the mean of the differences.
func TestHowManyRoundsTell(t *testing.T) {
	b, stated := &bootstrap{rounds: 100, truth: bootstrapValues{gradient: []float64{1}}}, 1.0
	seen := slices.Repeat([]float64{1.5, 0.9}, 25)
	for n, tells := range map[int]bool{50: true, 49: false} {
		in, bias := b.interval(&stated, []float64{1}, slices.Clone(seen[:n]), 0, 1), b.bias([]float64{1}, seen[:n])
		if (in != nil) != tells || (bias != 0) != tells || tells && !(math.Abs(bias-0.2) <= 1e-12) {
			t.Errorf("%d rounds: %v, bias %g", n, in, bias)
		}
	}
	if b.interval(&stated, nil, slices.Clone(seen), 0, 1) != nil || b.bias(nil, seen) != 0 {
		t.Error("no true value, and something told")
	}
	alone := float64(0.02) * math.Sqrt2 / 1.3
	for n, fallback := range map[int]bool{10: false, 9: true} {
		if got := b.deviation(bootstrapValues{gradient: slices.Clone(seen[:n])}, 0.02); (math.Abs(got-alone) < 1e-12) != fallback {
			t.Errorf("%d rounds: %g", n, got)
		}
	}
	// differences that lie even round nothing leave the stated value in the middle
	even, over := []float64{}, []float64{}
	for i := range 101 {
		even, over = append(even, 0.5+0.01*float64(i)), append(over, -0.5+0.01*float64(i))
	}
	at := LogH(1) // of a straight line
	r := Result{SpeedPoint: &at, BaseFog: 0.9, Curve: NewInterpolant([]float64{0, 1, 2}, []float64{0, 1, 2}), AverageGradient: &stated, ContrastIndex: &stated, Gamma: &stated}
	one := []float64{1}
	b.truth = bootstrapValues{gradient: one, index: one, gamma: one}
	in := b.intervals(r, bootstrapValues{over: over, gradient: slices.Clone(even), index: slices.Clone(even), gamma: slices.Clone(even)})
	for _, i := range []*Interval{in.SpeedPoint, in.AverageGradient, in.ContrastIndex, in.Gamma} {
		if !(math.Abs(i.Low+i.High-2) <= 1e-9) {
			t.Errorf("%+v; expected 1 in the middle", *i)
		}
	}
	for p, want := range map[float64]float64{0: 1, 0.25: 1.5, 0.5: 2, 0.75: 3, 1: 4} {
		if got := quantile([]float64{1, 2, 4}, p); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("quantile %g: %g; expected %g", p, got, want)
		}
	}
	if quantile([]float64{3}, 0.9) != 3 || !math.IsNaN(quantile(nil, 0.5)) {
		t.Error("quantiles of one, and of none")
	}
}

// The straight part goes as far as readings lie on one line: of a flat toe, a line of slope 0.7 and a flat shoulder all of the line
// and no more, wherever it stands.
func TestTheStraightPartIsAllOfIt(t *testing.T) {
	for _, c := range [][2]int{{4, 20}, {0, 12}, {6, 14}, {0, 20}} {
		curve := Curve{}
		for i := range 21 {
			on := min(max(i, c[0]), c[1]) - c[0]
			curve.Readings = append(curve.Readings, Reading{LogH(0.15 * float64(i)), Density(0.1 + 0.7*0.15*float64(on))})
		}
		d, err := fitCurve(curve, 0.001)
		if err != nil {
			t.Fatal(err)
		}
		if p, ok := d.straightPart(d.readings); !ok || p.first != c[0] || p.end != c[1]+1 || !(math.Abs(p.Slope-0.7) <= 1e-9) {
			t.Errorf("straight from reading %d to %d: %+v, %v", c[0], c[1], p, ok)
		}
	}
}

// One reading that lies low begins the steepest stretch: whatever goes on from there bends, and what begins behind it, however straight,
// is another stretch.
func TestTheStraightPartHoldsTheSteepest(t *testing.T) {
	curve := Curve{}
	for i := range 21 {
		curve.Readings = append(curve.Readings, Reading{LogH(0.15 * float64(i)), Density(0.1 + 0.7*0.15*float64(i))})
	}
	curve.Readings[8].Density -= 0.05
	d, err := fitCurve(curve, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	// of five readings the first, low by 0.05, tilts their line by 2 x 0.05/(10 x 0.15)
	if p, ok := d.straightPart(d.readings); !ok || p.first != 8 || p.end != 13 || !(math.Abs(p.Slope-(0.7+0.1/1.5)) <= 1e-9) {
		t.Errorf("%+v, %v; expected readings 8 to 12", p, ok)
	}
}

// The contrast index of a toe, by an account of its own: the origin on the level of base plus fog for which the points of the
// curve at 0.2 and at 2.2 from it lie in one direction, by halving, on the toe's own formula.
func TestContrastIndexOfAToe(t *testing.T) {
	for _, slope := range []float64{0.6, 0.9} {
		at := func(x float64) float64 { return slope * 0.3 * math.Log1p(math.Exp(x/0.3)) }
		c := Curve{Base: new(Density)}
		for i := range 461 {
			x := -1.6 + 0.01*float64(i)
			c.Readings = append(c.Readings, Reading{LogH(x), Density(at(x))})
		}
		tangent := func(origin, distance float64) float64 { // of the curve's point at a distance
			low, high := origin, origin+distance
			for range 60 {
				if x := (low + high) / 2; math.Hypot(x-origin, at(x)) < distance {
					low = x
				} else {
					high = x
				}
			}
			return at(low) / (low - origin)
		}
		low, high := -0.6, 0.4 // further left the near point is the steeper, seen from there
		for range 60 {
			if x := (low + high) / 2; tangent(x, 0.2) < tangent(x, 2.2) {
				low = x
			} else {
				high = x
			}
		}
		want := tangent(low, 2.2)
		r, _ := evaluated(t, c, Request{Exact: true, Rounds: 1})
		if r.ContrastIndex == nil || !(math.Abs(*r.ContrastIndex-want) <= 1e-4) {
			t.Errorf("slope %g: %v; expected %.5f", slope, *r.ContrastIndex, want)
		}
	}
}
