package curve

// The intervals of one curve hold the film's own values.

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Sheets of a film whose gradient and speed point are known, scattered and read with
// errors. WETSIDE_FULL=1 makes a thousand of them.
func TestCurveIntervalsHoldTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 8))
	tests := every(300, 1000)
	for _, smooth := range []bool{false, true} {
		held := map[string]int{}
		for range tests {
			e, scatter := Density(0.01+0.02*rng.Float64()), 0.03+0.02*rng.Float64()
			gradient := 0.4 + 0.4*rng.Float64()
			slope := toeSlope(gradient)
			more := 1 + scatter*rng.NormFloat64()
			c := simulated(rng, gradient, 0)
			for i := range c.Readings { // the sheet is developed more or less, then read
				c.Readings[i].Density = Density(more*toe(slope, float64(c.Readings[i].LogH)) + float64(e)*rng.NormFloat64())
			}
			base := Density(float64(e) * rng.NormFloat64())
			c.Base = &base
			q := Request{Rounds: 150, Intervals: true, Errors: Errors{Reading: e}}
			if smooth {
				q.Smooth = e
			}
			out, err := Evaluate(Family{Curves: []Curve{c}}, q)
			if err != nil {
				t.Fatal(err)
			}
			in := out.Curves[0].Intervals
			// where toe comes to 0.10: its inverse
			speedPoint := toeWidth * math.Log(math.Expm1(speedOverBase/(slope*toeWidth)))
			for name, one := range map[string]struct {
				in    *Interval
				truth float64
			}{"average gradient": {in.AverageGradient, gradient}, "speed point": {in.SpeedPoint, speedPoint}} {
				if one.in != nil && one.in.Low <= one.truth && one.truth <= one.in.High {
					held[name]++
				}
			}
		}
		slack := 0.0
		if tests < 1000 {
			slack = 0.05
		}
		for _, name := range []string{"average gradient", "speed point"} {
			share := float64(held[name]) / float64(tests)
			t.Logf("smoothed %v, %s: %.3f hold the truth", smooth, name, share)
			if share < 0.85-slack || share > 0.95+slack {
				t.Errorf("smoothed %v, %s: %.3f of the intervals hold the truth; expected 0.85 to 0.95", smooth, name, share)
			}
		}
	}
}

// Growth of 1,000 simulated tests: the limit and the rate lie in their intervals.
func TestGrowthIntervalsHoldTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(22, 9))
	tests, held := every(60, 1000), [2]int{}
	stated := 0
	for range tests {
		truth := Growth{Limit: 0.8 + 0.4*rng.Float64(), K: PerMinute(0.1 + 0.08*rng.Float64())}
		f := Family{}
		for _, m := range []float64{5, 7, 10, 14} {
			d := fromMinutes(m)
			c := simulated(rng, truth.At(d)*(1+0.04*rng.NormFloat64()), 0.02)
			c.Time = d
			f.Curves = append(f.Curves, c)
		}
		out, err := Evaluate(f, Request{Rounds: 150, Intervals: true, Smooth: 0.02})
		if err != nil {
			t.Fatal(err)
		}
		in := out.GrowthIntervals
		if in == nil {
			continue
		}
		stated++
		if in.Limit.Low <= truth.Limit && truth.Limit <= in.Limit.High {
			held[0]++
		}
		if in.K.Low <= float64(truth.K) && float64(truth.K) <= in.K.High {
			held[1]++
		}
	}
	for i, name := range []string{"limit", "rate"} {
		share := float64(held[i]) / float64(stated)
		t.Logf("%s: %.3f of %d hold the truth", name, share, stated)
		if share < 0.80 || share > 0.98 {
			t.Errorf("%s: %.3f of %d intervals hold the truth; expected about 0.9", name, share, stated)
		}
	}
}
