package curve

// Intervals: the same for the same readings, wider for greater errors.

import (
	"math/rand/v2"
	"testing"
)

func TestIntervalsAreDeterministic(t *testing.T) {
	f := plover(t)
	first, err := Evaluate(f, Request{Target: 0.6})
	if err != nil {
		t.Fatal(err)
	}
	again, _ := Evaluate(f, Request{Target: 0.6})
	other, _ := Evaluate(f, Request{Target: 0.6, Seed: 1})
	if *first.Target.Low != *again.Target.Low || *first.Target.High != *again.Target.High {
		t.Error("the same readings gave another interval")
	}
	if *first.Target.Low == *other.Target.Low {
		t.Error("another seed gave the same interval")
	}
}

// Each of the two errors widens the interval.
func TestIntervalsCarryBothErrors(t *testing.T) {
	f := plover(t)
	width := func(reading Density, scatter float64) float64 {
		out, err := Evaluate(f, Request{Target: 0.6, Errors: Errors{Reading: reading, Scatter: scatter, Sessions: new(float64)}})
		if err != nil {
			t.Fatal(err)
		}
		return *out.Target.High - *out.Target.Low
	}
	small := width(0.005, 0.01)
	if w := width(0.015, 0.01); w < 1.5*small {
		t.Errorf("three times the reading error: %.1f s instead of %.1f s; expected much more", w, small)
	}
	if w := width(0.005, 0.03); w < 2*small {
		t.Errorf("three times the scatter: %.1f s instead of %.1f s; expected much more", w, small)
	}
}

// Sheets that lie off any growth curve widen it too, and that is said.
func TestMisfitWidens(t *testing.T) {
	f := Family{Name: "misfit"}
	rng := rand.New(rand.NewPCG(1, 1))
	for i, g := range []float64{0.45, 0.75, 0.55, 0.85, 0.70} {
		c := simulated(rng, g, 0.001)
		c.Time = fromMinutes(5 + 2*float64(i))
		f.Curves = append(f.Curves, c)
	}
	out, err := Evaluate(f, Request{Errors: Errors{Reading: 0.005}})
	if err != nil || len(out.Notes) == 0 {
		t.Errorf("notes %q, %v; expected one about the scatter", out.Notes, err)
	}
}

func five(tb testing.TB) Family {
	tb.Helper()
	rng := rand.New(rand.NewPCG(3, 5))
	truth := Growth{Limit: 1.1, K: 0.12}
	f := Family{Name: "five"}
	for _, m := range []float64{4, 6, 8, 11, 15} {
		c := Curve{Time: fromMinutes(m)}
		slope := toeSlope(truth.At(c.Time))
		for i := range 31 {
			x := -1.2 + 0.1*float64(i)
			c.Readings = append(c.Readings, Reading{LogH(x), Density(0.15 + toe(slope, x) + 0.01*rng.NormFloat64())})
		}
		f.Curves = append(f.Curves, c)
	}
	return f
}

// BenchmarkFiveCurves: five curves of 31 steps, smoothed, with an interval.
func BenchmarkFiveCurves(b *testing.B) {
	f := five(b)
	for _, rounds := range []int{1000, 2000, 4000} {
		b.Run(map[int]string{1000: "1000", 2000: "2000", 4000: "4000"}[rounds], func(b *testing.B) {
			for b.Loop() {
				if _, err := Evaluate(f, Request{Smooth: 0.01, Target: 0.6, Rounds: rounds}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
