package curve

// Whether the stated 90 % intervals hold the truth: film tests are simulated,
// read with an error of 0.01 to 0.03 and a scatter of 3 to 5 % from sheet to
// sheet, and evaluated as a person would.

import (
	"errors"
	"math/rand/v2"
	"os"
	"testing"
)

// every runs the full count where WETSIDE_FULL is set.
func every(ordinary, full int) int {
	if os.Getenv("WETSIDE_FULL") != "" {
		return full
	}
	return ordinary
}

// coverage is the outcome of simulated tests.
type coverage struct{ held, stated, refused, low, high int }

// cover simulates tests of one kind. The scatter is told to the evaluation as
// the usual 4 %, the reading error as what it is.
func cover(t *testing.T, tests int, smooth, base bool) (c coverage) {
	t.Helper()
	rng := rand.New(rand.NewPCG(7, 11))
	for range tests {
		e, scatter := Density(0.01+0.02*rng.Float64()), 0.03+0.02*rng.Float64()
		truth := Growth{Limit: 0.8 + 0.4*rng.Float64(), K: PerMinute(0.08 + 0.1*rng.Float64())}
		minutes := 6.5 + 3*rng.Float64()
		f := Family{Name: "simulated"}
		for _, m := range []float64{5, 7, 10, 14} {
			d := fromMinutes(m)
			one := simulated(rng, truth.At(d)*(1+scatter*rng.NormFloat64()), e)
			one.Time = d
			if !base {
				one.Base = nil
			}
			f.Curves = append(f.Curves, one)
		}
		r := Request{Rounds: 400, Target: truth.At(fromMinutes(minutes)), Errors: Errors{Reading: e}}
		if smooth {
			r.Smooth = e
		}
		out, err := Evaluate(f, r)
		if errors.Is(err, ErrOutsideTests) || errors.Is(err, ErrNoLimit) || errors.Is(err, ErrNoRise) {
			c.refused++
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		c.stated++
		switch low, high := out.Target.Low, out.Target.High; {
		case low != nil && *low > minutes*60:
			c.low++
		case high != nil && *high < minutes*60:
			c.high++
		default:
			c.held++
		}
	}
	return c
}

// The figures of 1,000 tests each (WETSIDE_FULL=1) are recorded in
// testdata/coverage.txt.
func TestIntervalsHoldTheTruth(t *testing.T) {
	tests := every(150, 1000)
	for name, c := range map[string]coverage{
		"through every reading": cover(t, tests, false, true),
		"smoothed":              cover(t, tests, true, true),
		"smoothed, no base row": cover(t, tests, true, false),
	} {
		share := float64(c.held) / float64(c.stated)
		t.Logf("%s: %.3f hold the truth; %d stated, %d refused, %d too high, %d too low", name, share, c.stated, c.refused, c.low, c.high)
		slack := 0.0
		if tests < 1000 {
			slack = 0.05 // two standard errors of 150 tests
		}
		if share < 0.85-slack || share > 0.95+slack {
			t.Errorf("%s: %.3f of the intervals hold the truth; expected 0.85 to 0.95", name, share)
		}
		if c.refused > tests/10 {
			t.Errorf("%s: %d of %d tests gave no time", name, c.refused, tests)
		}
	}
}

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
		out, err := Evaluate(f, Request{Target: 0.6, Errors: Errors{reading, scatter}})
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
