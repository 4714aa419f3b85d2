package curve

// The growth fit and what is believed after it, against brute force and in closed form where they branch: no step that is refused
// counts, an induction of a few seconds is one, parts of a belief that lie apart.

import (
	"math"
	"testing"
	"time"
)

// Least squares by looking everywhere: no curve of a fine grid of k and induction, its limit in closed form, comes closer to the
// sheets than the one that is fitted, and its sum of squares is the sum of its squares.
func TestNoGrowthFitsBetter(t *testing.T) {
	squares := func(sheets []Sheet, k, t0 float64) float64 {
		var fg, ff, gg float64
		for _, s := range sheets {
			v := 1 - math.Exp(-k*(s.Time.Minutes()-t0))
			fg, ff, gg = fg+v*s.Gradient, ff+v*v, gg+s.Gradient*s.Gradient
		}
		return gg - fg*fg/ff
	}
	fitted := 0
	for seed := range uint64(30) {
		rng := newRand(seed)
		truth := Growth{Limit: 0.8 + rng.Float64(), K: PerMinute(0.04 + 0.2*rng.Float64()), Induction: Minutes(3 * rng.Float64())}
		var sheets []Sheet
		for _, m := range []float64{4, 6, 9, 13, 18} {
			sheets = append(sheets, Sheet{fromMinutes(m), truth.At(fromMinutes(m)) * (1 + 0.04*rng.NormFloat64())})
		}
		for _, induction := range []bool{false, true} {
			got, err := FitGrowth(sheets, induction)
			if err != nil {
				continue
			}
			fitted++
			own, least := 0.0, math.Inf(1)
			for _, s := range sheets {
				off := s.Gradient - got.Limit*(1-math.Exp(-float64(got.K)*(s.Time.Minutes()-float64(got.Induction))))
				own += off * off
			}
			for t0 := 0.0; t0 <= 3.8 && (induction || t0 == 0); t0 += 0.1 {
				for k := 0.003; k < 3; k *= 1.03 {
					least = min(least, squares(sheets, k, t0))
				}
			}
			if !(math.Abs(got.RSS-own) <= 1e-12) || !(own <= least+1e-9) {
				t.Errorf("film %d, induction %v: %+v has %.9f by hand; a grid finds %.9f", seed, induction, got, own, least)
			}
		}
	}
	if fitted < 40 {
		t.Errorf("%d fits of 60", fitted)
	}
}

// Sheets of films whose induction alone makes them bend, for which there is no limit in sight without it, and of one whose induction is
// half a minute: three times tell all three parameters exactly.
func TestInductionsThatTimesTell(t *testing.T) {
	for _, c := range []struct {
		truth Growth
		times [3]float64
	}{{Growth{Limit: 2, K: 0.1, Induction: 3}, [3]float64{4, 8, 12}}, {Growth{Limit: 1.4, K: 0.15, Induction: 3.5}, [3]float64{4, 6, 9}},
		{Growth{Limit: 1.2, K: 0.15, Induction: 0.5}, [3]float64{2, 6, 15}}} {
		var sheets []Sheet
		for _, m := range c.times {
			sheets = append(sheets, Sheet{fromMinutes(m), c.truth.At(fromMinutes(m))})
		}
		got, err := FitGrowth(sheets, true)
		if err != nil || !(math.Abs(got.Limit/c.truth.Limit-1) <= 1e-4) || !(math.Abs(float64(got.Induction-c.truth.Induction)) <= 1e-3) {
			t.Errorf("%+v, %v; expected %+v", got, err, c.truth)
		}
	}
}

// The limit for a rate and an induction that are known, and the rate from wherever the search begins: no step that goes too far is kept.
func TestFitsFromAnywhere(t *testing.T) {
	truth := Growth{Limit: 2, K: 0.1, Induction: 3}
	fitter := func(truth Growth) *growthFitter {
		var sheets []Sheet
		for _, m := range []float64{4, 8, 12, 20} {
			sheets = append(sheets, Sheet{fromMinutes(m), truth.At(fromMinutes(m))})
		}
		return newGrowthFitter(sheets)
	}
	if g := fitter(truth).limit(0.1, 3); !(math.Abs(g.Limit-2) <= 1e-9) || !(g.RSS <= 1e-15) {
		t.Errorf("%+v; expected a limit of 2", g)
	}
	truth.Induction = 0
	for k := 0.005; k < 3; k *= 1.3 {
		f := fitter(truth)
		if g, shape := f.refine(f.limit(k, 0), saturating, 2); shape != saturating || !(math.Abs(float64(g.K)-0.1) <= 1e-6) {
			t.Errorf("from %g: %+v, %v; expected a rate of 0.1", k, g, shape)
		}
	}
}

// Equations by hand: 2y = 6, 3x + y = 9, whose first has no x; and three whose second pivot is nothing until rows change.
func TestSolveChangesRows(t *testing.T) {
	x, ok := solve([3][4]float64{{0, 2, 0, 6}, {3, 1, 0, 9}}, 2)
	if !ok || !(math.Abs(x[0]-2) <= 1e-12) || !(math.Abs(x[1]-3) <= 1e-12) {
		t.Errorf("%v, %v; expected 2 and 3", x, ok)
	}
	x, ok = solve([3][4]float64{{1, 1, 1, 6}, {2, 2, 1, 9}, {1, 2, 1, 8}}, 3)
	for i, want := range []float64{1, 2, 3} {
		if !ok || !(math.Abs(x[i]-want) <= 1e-12) {
			t.Errorf("%v, %v; expected 1, 2, 3", x, ok)
		}
	}
}

// Sheets with an induction of 0.8 min scatter by nothing about their own curve: what an induction explains is no scatter. Where none is
// stated there is none to be wrong; and a scatter that is 1.9 times the stated is told.
func TestWhatExplainsAScatter(t *testing.T) {
	truth := Growth{Limit: 1.2, K: 0.2, Induction: 0.8}
	out := Results{}
	var measured []measuredSheet
	for _, m := range []float64{2, 4, 7, 11, 16} {
		out.sheets = append(out.sheets, Sheet{fromMinutes(m), truth.At(fromMinutes(m))})
		measured = append(measured, measuredSheet{minutes: m, gradient: truth.At(fromMinutes(m)), reading: 1e-4})
	}
	plain, err := FitGrowth(out.sheets, false)
	if err != nil {
		t.Fatal(err)
	}
	fitted, times := out.explained(measured, plain, Request{Errors: Errors{Scatter: 0.001}})
	if times != 1 || !(math.Abs(fitted(2)-truth.At(2*time.Minute)) <= 1e-6) {
		t.Errorf("%g times, %.5f after 2 min; expected once, %.5f", times, fitted(2), truth.At(2*time.Minute))
	}
	off := func(m float64) float64 { return 2 * truth.At(fromMinutes(m)) }
	if got := misfit(measured, off, Request{}); got != 1 {
		t.Errorf("%g times a scatter that was not stated", got)
	}
	// all off by half of the fitted: five sheets less two parameters of 0.5/0.2 scatters each
	if got := misfit(measured, off, Request{Errors: Errors{Scatter: 0.2}}); !(math.Abs(got-2.5*math.Sqrt(5.0/3)) <= 1e-3) {
		t.Errorf("%g times; expected %g", got, 2.5*math.Sqrt(5.0/3))
	}
	again := Results{}
	var few []measuredSheet
	for i, m := range []float64{3.5, 5, 7, 9.5, 13.5, 19} {
		g := 1.2 * -math.Expm1(-0.12*m) * (1 + 0.08*float64(1-2*(i%2)))
		again.sheets = append(again.sheets, Sheet{fromMinutes(m), g})
		few = append(few, measuredSheet{minutes: m, gradient: g})
	}
	r := Request{Errors: Errors{Scatter: 0.04, Sessions: new(float64)}}
	plain, _ = FitGrowth(again.sheets, false)
	_, once := again.explained(few, plain, r) // in proportion to the stated: now so that it is 1.9 times
	r.Errors.Scatter *= once / 1.9
	if _, times = again.explained(few, plain, r); !(math.Abs(times-1.9) <= 0.05) {
		t.Fatalf("%g times; expected 1.9", times)
	}
	if again.grow(few, r); len(again.Notes) == 0 || !(math.Abs(again.Errors.Sheets/r.Errors.Scatter-times) <= 1e-9) {
		t.Errorf("%q, a scatter of %g; expected %g times %g", again.Notes, again.Errors.Sheets, times, r.Errors.Scatter)
	}
}

// A film without and with a time of induction, three and seven parts in ten, whose limits and rates lie far apart: each interval goes
// from the tenth of the lower to the ninth tenth of the higher, 1.28155 standard deviations from their limits (printed tables).
func TestIntervalsOfPartsThatLieApart(t *testing.T) {
	b := belief{{k: 0.1, limit: 1, sd: 0.01, weight: 0.3}, {k: 0.4, t0: 2, limit: 2, sd: 0.02, weight: 0.7}}
	in := b.intervals()
	if !(math.Abs(in.Limit.Low-(1-0.0128155)) <= 2e-6) || !(math.Abs(in.Limit.High-(2+0.025631)) <= 2e-6) || in.K != (Interval{0.1, 0.4}) || in.Induction != (Interval{0, 2}) {
		t.Errorf("%+v", in)
	}
	// rates of two curves each: a tenth of the lower's three tenths lies between them, linear between the middles of their weights
	b = belief{{k: 0.1, limit: 1, sd: 0.01, weight: 0.03}, {k: 0.2, limit: 1, sd: 0.01, weight: 0.27}, {k: 0.4, t0: 2, limit: 1, sd: 0.02, weight: 0.63}, {k: 0.5, t0: 2, limit: 1, sd: 0.02, weight: 0.07}}
	if in := b.intervals(); !(math.Abs(in.K.Low-(0.1+0.1*(0.03-0.015)/0.15)) <= 1e-9) || !(math.Abs(in.K.High-(0.4+0.1*(0.63-0.315)/0.35)) <= 1e-9) {
		t.Errorf("%+v", in.K)
	}
	if w := newWeigher([]measuredSheet{{minutes: 5, gradient: 0.1}}, func(float64) float64 { return 0 }, growthPrior{}, nil, nil); w.mean[0] != 0.01 {
		t.Errorf("errors in proportion to %g; expected at least a hundredth", w.mean[0])
	}
}

// A nanosecond is a time like any other: named, kept, fitted and forecast.
func TestTheShortestTimes(t *testing.T) {
	c := sampled(-3, 0.3, 0.1, 0.1, 0.2, 0.4, 0.7, 1, 1.3, 1.6)
	c.Time = 1
	f := Family{Curves: []Curve{c}}
	if f.Label(0) == "curve 1" {
		t.Error("a curve of a nanosecond has no name")
	}
	out, err := Evaluate(f, Request{Exact: true, Rounds: 1})
	if err != nil || out.Curves[0].Time == nil || len(out.sheets) != 1 {
		t.Errorf("%+v, %v", out, err)
	}
	c.Readings[4].Density = 2.5
	if list := c.suspects(0.01); len(list) == 0 || list[0].Time == nil {
		t.Errorf("%+v", list)
	}
	if _, err := FitGrowth([]Sheet{{1, 0.3}, {2, 0.5}}, false); err != nil {
		t.Error(err)
	}
	if _, err := ForecastTest([]time.Duration{1, 10 * time.Minute}, 8*time.Minute, 0.6, Errors{Reading: 0.01}); err != nil {
		t.Error(err)
	}
	if _, err := ForecastTest([]time.Duration{5 * time.Minute, 10 * time.Minute}, 1, 0.6, Errors{Reading: 0.01}); err != nil {
		t.Error(err)
	}
	if _, _, err := FromOneSheet(Sheet{1, 0.5}, Growth{K: 0.1}, true, 0.5, Errors{}); err != nil {
		t.Error(err)
	}
	if _, _, err := FromOneSheet(Sheet{30 * time.Second, 0.5}, Growth{K: 0.1}, true, 0.5, Errors{}); err != nil {
		t.Error(err)
	}
}
