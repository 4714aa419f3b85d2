package curve

// Growth: refusals, the closed form as a second way, and the inverse.

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Derived from Mees 1911: through g1 after t and g2 after 2 t goes the curve with k = ln(g1/(g2-g1))/t and the
// limit g1^2/(2 g1 - g2).
func TestFitGrowthThroughTwoTimesIsTheClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := time.Duration(rapid.IntRange(60, 1200).Draw(t, "seconds")) * time.Second
		g1 := rapid.Float64Range(0.1, 2).Draw(t, "g1")
		g2 := g1 * rapid.Float64Range(1.02, 1.95).Draw(t, "ratio")
		want := Growth{Limit: g1 * g1 / (2*g1 - g2), K: PerMinute(math.Log(g1/(g2-g1)) / first.Minutes())}
		got, err := FitGrowth([]Sheet{{first, g1}, {2 * first, g2}}, false)
		if err != nil || math.Abs(got.Limit/want.Limit-1) > 1e-6 || math.Abs(float64(got.K/want.K)-1) > 1e-6 || got.RSS > 1e-16 {
			t.Fatalf("%+v, %v; closed form %+v", got, err, want)
		}
	})
}

func TestGrowthTimeIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Growth{
			Limit: rapid.Float64Range(0.3, 3).Draw(t, "limit"), K: PerMinute(rapid.Float64Range(0.02, 1).Draw(t, "k")),
			Induction: Minutes(rapid.Float64Range(0, 2).Draw(t, "t0")),
		}
		wanted := g.Limit * rapid.Float64Range(0.01, 0.99).Draw(t, "part")
		d, err := g.Time(wanted)
		if err != nil || math.Abs(g.At(d)-wanted) > 1e-9 {
			t.Fatalf("%v: %g, %v; expected %g", d, g.At(d), err, wanted)
		}
	})
}

func TestGrowthRefusals(t *testing.T) {
	m := time.Minute
	for name, c := range map[string]struct {
		sheets    []Sheet
		induction bool
		want      error
	}{
		"one time twice":          {[]Sheet{{5 * m, 0.5}, {5 * m, 0.52}}, false, ErrTooFewSheets},
		"two, with induction":     {[]Sheet{{5 * m, 0.5}, {8 * m, 0.6}}, true, ErrTooFewSheets},
		"in proportion to time":   {[]Sheet{{5 * m, 0.3}, {10 * m, 0.6}}, false, ErrNoLimit},
		"faster than time":        {[]Sheet{{5 * m, 0.3}, {10 * m, 0.7}}, false, ErrNoLimit},
		"all but in proportion":   {[]Sheet{{5 * m, 0.3}, {10 * m, 0.599}}, false, ErrNoLimit},
		"all the same":            {[]Sheet{{5 * m, 0.6}, {10 * m, 0.6}}, false, ErrNoRise},
		"falling":                 {[]Sheet{{5 * m, 0.7}, {10 * m, 0.5}}, false, ErrNoRise},
		"one short of proportion": {[]Sheet{{5 * m, 0.3}, {10 * m, 0.58}}, false, nil},
		"no time":                 {[]Sheet{{0, 0.3}, {10 * m, 0.58}}, false, errors.New("any")},
		"no number":               {[]Sheet{{5 * m, math.NaN()}, {10 * m, 0.58}}, false, errors.New("any")},
	} {
		_, err := FitGrowth(c.sheets, c.induction)
		if !errors.Is(err, c.want) && (c.want == nil || c.want.Error() != "any" || err == nil) {
			t.Errorf("%s: %v; expected %v", name, err, c.want)
		}
	}
	for _, g := range []float64{0, -1, 1, 1.2, math.NaN()} {
		if _, err := (Growth{Limit: 1, K: 0.1}).Time(g); !errors.Is(err, ErrOutsideTests) {
			t.Errorf("time for gradient %g: %v; expected beyond the test", g, err)
		}
	}
}

func TestInductionIsFound(t *testing.T) {
	truth := Growth{Limit: 1.1, K: 0.12, Induction: 1.5}
	var sheets []Sheet
	for _, m := range []float64{4, 6, 9, 13, 20} {
		sheets = append(sheets, Sheet{fromMinutes(m), truth.At(fromMinutes(m))})
	}
	g, err := FitGrowth(sheets, true)
	if err != nil || math.Abs(g.Limit-1.1) > 1e-6 || math.Abs(float64(g.K)-0.12) > 1e-6 || math.Abs(float64(g.Induction)-1.5) > 1e-5 {
		t.Errorf("%+v, %v; expected %+v", g, err, truth)
	}
	if got := truth.At(time.Minute); got != 0 {
		t.Errorf("before the induction: gradient %g; expected 0", got)
	}
}

// Where the best time of induction would lie below zero there is none.
func TestInductionIsNotNegative(t *testing.T) {
	early := Growth{Limit: 1.1, K: 0.12, Induction: -1.5}
	var sheets []Sheet
	for _, m := range []float64{4, 6, 9, 13, 20} {
		sheets = append(sheets, Sheet{fromMinutes(m), early.At(fromMinutes(m))})
	}
	with, err := FitGrowth(sheets, true)
	without, _ := FitGrowth(sheets, false)
	if err != nil || with != without || with.Induction != 0 {
		t.Errorf("%+v, %v; expected %+v", with, err, without)
	}
}
