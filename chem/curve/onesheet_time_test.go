package curve

// One negative, and an index from the meter.

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// With the true rate the closed form gives the true time: after half the limit,
// three quarters come after twice the time (Mees 1911, derived).
func TestFromOneIsTheClosedForm(t *testing.T) {
	s := Sheet{8 * time.Minute, 0.5}
	target, growth, err := FromOneSheet(s, Growth{K: HalfLimitRate(s.Time)}, true, 0.75, Errors{})
	if err != nil || math.Abs(target.Time-16*60) > 1e-6 || math.Abs(growth.Limit-1) > 1e-12 {
		t.Errorf("%+v, %+v, %v; expected 16 min of a limit of 1", target, growth, err)
	}
	unsure, _, err := FromOneSheet(s, Growth{K: HalfLimitRate(s.Time)}, false, 0.75, Errors{})
	if err != nil || unsure.High != nil && *unsure.High-*unsure.Low < 1.2*(*target.High-*target.Low) {
		t.Errorf("%+v, %v where the rate is assumed; expected it wider than %+v", unsure, err, target)
	}
	if _, _, err := FromOneSheet(s, Growth{K: HalfLimitRate(s.Time)}, true, 1, Errors{}); err == nil {
		t.Error("a gradient at the limit was given a time")
	}
	for _, bad := range []Sheet{{0, 0.5}, {time.Minute, 0}, {time.Minute, math.NaN()}} {
		if _, _, err := FromOneSheet(bad, Growth{K: 0.1}, true, 0.5, Errors{}); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// The interval of one sheet whose rate is known, by hand: 0.5 after 8 min is half the limit, and 0.75 comes after
// 16. What the sheet may be off, as a fraction: 0.04 of scatter, 0.02 x sqrt 2/1.3/0.5 = 0.0435 of its readings, 0.05 of
// its session: 0.0775, the limit's; the next session's 0.05 of its own besides. Where the limit is L (1 + d),
// 0.75 comes after -8/ln 2 ln(1 - 0.75/(1 + d)), d at 1.645 standard deviations.
func TestTheIntervalOfOneSheet(t *testing.T) {
	target, _, err := FromOneSheet(Sheet{8 * time.Minute, 0.5}, Growth{K: HalfLimitRate(8 * time.Minute)}, true, 0.75, Errors{})
	if err != nil {
		t.Fatal(err)
	}
	own := math.Sqrt(0.04*0.04 + 0.0435*0.0435 + 0.05*0.05)
	low := func(sd float64) float64 { return -8 * 60 / math.Ln2 * math.Log(1-0.75/(1+1.645*sd)) }
	if math.Abs(*target.OwnLow/low(own)-1) > 0.003 {
		t.Errorf("the film's own time from %.1f s; by hand %.1f", *target.OwnLow, low(own))
	}
	// of the next session the limit is off by its own error and by the session's: d solves d/sqrt(own^2 + 0.05^2) = 1.645
	if next := low(math.Hypot(own, 0.05)); math.Abs(*target.Low/next-1) > 0.003 {
		t.Errorf("the next session's from %.1f s; by hand %.1f", *target.Low, next)
	}
}

// The interval of one exact sheet whose rate is assumed is that of the rate: wrong by a factor of 1.35 two
// times in three, 1.35^1.645 nineteen times in twenty. 0.5 after 8 min, 0.75 wanted: by hand for both ends of the rate.
func TestTheIntervalOfAnAssumedRate(t *testing.T) {
	k := math.Ln2 / 8
	target, _, err := FromOneSheet(Sheet{8 * time.Minute, 0.5}, Growth{K: PerMinute(k)}, false, 0.75, Errors{Reading: 1e-6, Scatter: 1e-4, Sessions: new(float64)})
	if err != nil {
		t.Fatal(err)
	}
	slow := k * math.Pow(1.35, -1.645) // grows longer: the earlier time
	limit := 0.5 / (1 - math.Exp(-8*slow))
	if want := -60 / slow * math.Log(1-0.75/limit); math.Abs(*target.OwnLow/want-1) > 0.01 {
		t.Errorf("from %.1f s; by hand %.1f", *target.OwnLow, want)
	}
}

// The stated interval holds the truth where the rate is off as much as is said.
func TestFromOneHoldsTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	held, stated := 0, 0
	for range every(300, 1000) {
		truth := Growth{Limit: 1 + 0.3*rng.Float64(), K: PerMinute(0.06 + 0.05*rng.Float64())}
		at := 6 + 4*rng.Float64()
		minutes := at * (0.75 + 0.6*rng.Float64())
		g := truth.At(fromMinutes(at)) * (1 + 0.04*rng.NormFloat64())
		d, err := fitCurve(simulated(rng, g, 0.02), 0.02)
		if err != nil || !d.traits.hasGradient {
			continue
		}
		believed := truth.K * PerMinute(math.Pow(growthUncertainty, rng.NormFloat64()))
		target, _, err := FromOneSheet(Sheet{fromMinutes(at), d.traits.gradient()}, Growth{K: believed}, false, truth.At(fromMinutes(minutes)), Errors{Sessions: new(float64)})
		if err != nil {
			continue
		}
		stated++
		if *target.Low <= minutes*60 && (target.High == nil || minutes*60 <= *target.High) {
			held++
		}
	}
	if share := float64(held) / float64(stated); share < 0.83 || share > 0.97 {
		t.Errorf("%.3f of %d intervals hold the truth; expected about 0.9", share, stated)
	}
}

func TestParseMetered(t *testing.T) {
	// four stops over the meter: the metered exposure lies at -4 stops = -1.204 of the
	// tablet's clear step, a film of that index has its speed point 1.0 below
	b, err := ParseExposed("EI 50 +4")
	if err != nil || b.Speed != 50 || math.Abs(float64(b.SpeedPoint)+2.2041) > 1e-4 {
		t.Errorf("%+v, %v; expected 50 at -2.204", b, err)
	}
	if b, err := ParseExposed("64"); err != nil || b.Speed != 64 || b.SpeedPoint != -1 {
		t.Errorf("%+v, %v; expected 64 at -1", b, err)
	}
	for _, bad := range []string{"", "EI", "EI x", "50 +x", "50 4 3", "50 +40", "0", "50,5"} {
		if _, err := ParseExposed(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

func TestIndexAt(t *testing.T) {
	result := func(s, index float64) Result { return Result{Time: &s, index: index} }
	out := Results{Curves: []Result{result(300, 100), result(1200, 400), {}}}
	for _, tc := range []struct {
		at   time.Duration
		want float64
	}{{5 * time.Minute, 100}, {10 * time.Minute, 200}, {20 * time.Minute, 400}, {time.Minute, 100}, {time.Hour, 400}} {
		if got := out.IndexAt(tc.at); got == nil || *got != tc.want {
			t.Errorf("%v: %v; expected %g", tc.at, got, tc.want)
		}
	}
	// rounded once: a third of the way from 70 to 85.3 in log time lies 70 x (85.3/70)^(1/3) =
	// 74.8, by the nominal steps 80 (70.8 to 89.1); from 64 to 80, their own steps, it would be 64
	out = Results{Curves: []Result{result(300, 70), result(2400, 85.3)}}
	if got := out.IndexAt(10 * time.Minute); got == nil || *got != 80 {
		t.Errorf("%v; expected 80", got)
	}
	if got := (Results{}).IndexAt(time.Minute); got != nil {
		t.Errorf("%g of no sheet", *got)
	}
}

// Speed points 0.301 apart are a stop apart (arithmetic); halfway between two times in
// the logarithm the shift is half of it, and outside them it is that of the nearest.
func TestIndexShift(t *testing.T) {
	result := func(s float64, h LogH) Result { return Result{Time: &s, SpeedPoint: &h} }
	out := Results{Curves: []Result{result(300, -1.5), result(1200, -1.80103), {}}}
	for _, tc := range []struct {
		at, from time.Duration
		want     float64
	}{{20 * time.Minute, 5 * time.Minute, 1}, {10 * time.Minute, 5 * time.Minute, 0.5}, {5 * time.Minute, 20 * time.Minute, -1}, {time.Hour, 20 * time.Minute, 0}} {
		if got := out.IndexShift(tc.at, tc.from); got == nil || math.Abs(*got-tc.want) > 1e-5 {
			t.Errorf("%v from %v: %v; expected %g", tc.at, tc.from, got, tc.want)
		}
	}
	if got := (Results{}).IndexShift(time.Minute, time.Hour); got != nil {
		t.Errorf("%g of no sheet", *got)
	}
}

// With a time of induction: half the limit six minutes after two, three quarters twelve after
// them, so a sheet of 8 min at half the limit wants 14 min (Mees 1911, derived); read as if there
// were none it would be told 16:48. Before the induction is over no sheet tells anything.
func TestFromOneKeepsTheInduction(t *testing.T) {
	assumed := Growth{K: PerMinute(math.Ln2 / 6), Induction: 2}
	target, growth, err := FromOneSheet(Sheet{8 * time.Minute, 0.5}, assumed, true, 0.75, Errors{})
	if err != nil || math.Abs(target.Time-14*60) > 1e-3 || math.Abs(growth.Limit-1) > 1e-9 || growth.Induction != 2 {
		t.Errorf("%+v, %+v, %v; expected 14 min of a limit of 1", target, growth, err)
	}
	if *target.Low > 14*60 || *target.High < 14*60 || *target.OwnLow < *target.Low || *target.OwnHigh > *target.High {
		t.Errorf("%g to %g, own %g to %g", *target.Low, *target.High, *target.OwnLow, *target.OwnHigh)
	}
	if _, _, err := FromOneSheet(Sheet{2 * time.Minute, 0.5}, assumed, true, 0.75, Errors{}); err == nil {
		t.Error("a sheet of the induction was taken")
	}
}
