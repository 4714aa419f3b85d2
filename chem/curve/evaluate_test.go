package curve

// Results: the JSON, what is nil and when, speeds, what is said.

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// sampled is a curve of readings at exposures from first on, step apart.
func sampled(first, step float64, densities ...float64) Curve {
	c := Curve{Time: 5 * time.Minute}
	for i, d := range densities {
		c.Readings = append(c.Readings, Reading{LogH(first + step*float64(i)), Density(d)})
	}
	return c
}

func evaluated(t *testing.T, c Curve, r Request) (Result, []string) {
	t.Helper()
	out, err := Evaluate(Family{Name: "f", Scale: LuxSeconds, Curves: []Curve{c}}, r)
	if err != nil {
		t.Fatal(err)
	}
	return out.Curves[0], out.Notes
}

// The keys of the contract, in its order, and null for what is absent.
func TestJSON(t *testing.T) {
	c := sampled(-3, 0.3, 0.1, 0.1, 0.2, 0.4)
	c.Time = 0
	out, err := Evaluate(Family{Curves: []Curve{c}}, Request{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	last := -1
	for _, key := range []string{
		`"curves":[{"time_s":null,`, `"base_fog":0.1,`, `"speed_point_log_h":-2.4,`, `"density_rise":null,`, `"average_gradient":null,`,
		`"contrast_index":null,`, `"gamma":0.`, `"iso_valid":false,`, `"iso_speed":null,`, `"exposure_index":null,"intervals":null}],`,
		`"growth":null,`, `"target":null,`, `"growth_intervals":null,`, `"notes":[`,
	} {
		at := strings.Index(string(text), key)
		if at <= last {
			t.Errorf("%s is not in its place in %s", key, text)
		}
		last = at
	}
	full, err := Evaluate(plover(t), Request{Target: 0.6})
	if err != nil {
		t.Fatal(err)
	}
	text, _ = json.Marshal(full)
	for _, key := range []string{`"growth":{"gamma_infinity":`, `"k_per_min":`, `"induction_min":0,`, `"rss":`, `"target":{"kind":"average","average_gradient":0.6,"time_s":`, `"low_s":`, `"high_s":`, `"confidence":0.9}`} {
		if !strings.Contains(string(text), key) {
			t.Errorf("no %s in %s", key, text)
		}
	}
}

func TestWhatReadingsDoNotReachIsNil(t *testing.T) {
	for name, c := range map[string]struct {
		curve       Curve
		speed, rise bool
		note        string
	}{
		"whole":            {sampled(-3, 0.5, 0.1, 0.1, 0.4, 0.8, 1.2, 1.6), true, true, ""},
		"exactly 1.30":     {sampled(-2.3, 1.30, 0.2, 1.0), true, true, "no reading between"},
		"ends early":       {sampled(-3, 0.5, 0.1, 0.1, 0.4, 0.8), true, false, "the readings end less than 1.30 log H"},
		"ends below speed": {sampled(-3, 0.5, 0.1, 0.1, 0.12, 0.15), false, false, "the readings end below the speed point"},
		"begins above":     {sampled(-3, 0.5, 0.3, 0.6, 0.9, 1.2), false, false, "the readings begin above the speed point"},
	} {
		base := Density(0.1)
		c.curve.Base = &base
		r, notes := evaluated(t, c.curve, Request{})
		if (r.SpeedPoint != nil) != c.speed || (r.AverageGradient != nil) != c.rise || (r.DensityRise != nil) != c.rise {
			t.Errorf("%s: speed point %v, gradient %v", name, r.SpeedPoint, r.AverageGradient)
		}
		if said := strings.Join(notes, "\n"); (c.note == "") != (said == "") || !strings.Contains(said, c.note) {
			t.Errorf("%s: notes %q; expected %q", name, said, c.note)
		}
	}
}

func TestNotes(t *testing.T) {
	high := Density(0.3)
	given := sampled(-3, 0.5, 0.1, 0.1, 0.5, 0.9, 1.3)
	given.Base = &high
	for want, c := range map[string]Curve{
		"5:00: no base plus fog given; the least density, 0.10, is taken":                                                         sampled(-3, 0.5, 0.12, 0.10, 0.5, 0.9, 1.3),
		"5:00: base plus fog is given as 0.30, the least reading is 0.10":                                                         given,
		"5:00: no reading between log H -2.30 and -1.60":                                                                          sampled(-3, 0.7, 0.12, 0.10, 0.5, 0.9, 1.3),
		"5:00: density comes to 0.10 over base plus fog more than once, and the first time is taken; smooth by the reading error": sampled(-3, 0.3, 0.1, 0.22, 0.15, 0.5, 0.9, 1.3),
	} {
		if _, notes := evaluated(t, c, Request{}); !slices.Contains(notes, want) {
			t.Errorf("notes %q; expected %q", notes, want)
		}
	}
}

// ISO 6:1993 for the steps; those below 50 and over 800 from memory.
func TestNominalSpeed(t *testing.T) {
	for s, want := range map[float64]float64{1: 1, 3.2: 3, 6: 6, 12.4: 12, 26: 25, 64: 64, 90: 100, 111: 100, 113.5: 125, 88: 80, 176: 160, 179: 200, 222: 200, 410: 400, 1000: 1000, 1255: 1250, 3200: 3200} {
		if got, err := NominalSpeed(s); err != nil || got != want {
			t.Errorf("%g: %g, %v; expected %g", s, got, err, want)
		}
	}
	for _, s := range []float64{0, -1, 0.5, 2e6, math.Inf(1), math.NaN()} {
		if got, err := NominalSpeed(s); err == nil {
			t.Errorf("%g: %g; expected an error", s, got)
		}
	}
}

// The same curve under each scale. Its speed point lies at -2: 0.8/0.01 is 80.
func TestExposureIndex(t *testing.T) {
	base := Density(0.1)
	c := sampled(-2, 0.325, 0.2, 0.4, 0.6, 0.8, 1.0)
	c.Base = &base
	metered := AnchorFromMeter(200, -0.7) // a film of 200 would have its speed point at -1.7, three thirds of a stop on
	for name, w := range map[string]struct {
		scale      Scale
		absolute   bool
		box        *SpeedAnchor
		index, iso float64
	}{
		"absolute":         {LuxSeconds, true, nil, 80, 80},
		"lux seconds":      {LuxSeconds, false, nil, 80, 0},
		"relative":         {Relative, false, nil, 0, 0},
		"against the box":  {Relative, false, &metered, 400, 0},
		"not to vouch for": {Relative, true, nil, 0, 0},
		"vouched for":      {Unstated, true, nil, 80, 80},
		"perhaps relative": {Unstated, false, nil, 0, 0},
		"box and absolute": {LuxSeconds, true, &metered, 80, 80},
	} {
		out, err := Evaluate(Family{Scale: w.scale, Curves: []Curve{c}}, Request{Absolute: w.absolute, SpeedAnchor: w.box})
		if err != nil {
			t.Fatal(err)
		}
		value := func(p *float64) float64 {
			if p == nil {
				return 0
			}
			return *p
		}
		if r := out.Curves[0]; value(r.ExposureIndex) != w.index || value(r.ISOSpeed) != w.iso {
			t.Errorf("%s: index %v, ISO %v; expected %v, %v", name, value(r.ExposureIndex), value(r.ISOSpeed), w.index, w.iso)
		}
		if (len(out.Notes) > 0) != (w.absolute && w.scale == Relative || !w.absolute && w.scale == Unstated) {
			t.Errorf("%s: notes %q", name, out.Notes)
		}
	}
}

func TestTargets(t *testing.T) {
	out, err := Evaluate(plover(t), Request{})
	if err != nil {
		t.Fatal(err)
	}
	target, err := out.TimeFor(0.6)
	if err != nil || target.Time < *target.Low || target.Time > *target.High {
		t.Errorf("%+v, %v", target, err)
	}
	if g := out.Growth.At(time.Duration(target.Time * 1e9)); math.Abs(g-0.6) > 1e-9 {
		t.Errorf("the gradient at the time for 0.6 is %g", g)
	}
	for _, g := range []float64{-0.5, 0.2, 0.95, 3} {
		if _, err := out.TimeFor(g); !errors.Is(err, ErrOutsideTests) {
			t.Errorf("time for %g: %v; expected beyond the test", g, err)
		}
	}
	one, err := Evaluate(Family{Curves: plover(t).Curves[:1]}, Request{Target: 0.6})
	if !errors.Is(err, ErrTooFewSheets) || len(one.Curves) != 1 || one.Growth != nil {
		t.Errorf("one curve: %v; expected its results and too few times", err)
	}
}

// A speed point at -2.3 has its end at -1 but for rounding.
func TestRoundingAtTheLastReading(t *testing.T) {
	start := -2.3
	if start+averagedOver <= -1 {
		t.Fatal("these figures do not round up; expected some that do")
	}
	base := Density(0.1)
	r, _ := evaluated(t, Curve{Base: &base, Readings: []Reading{{-2.3, 0.2}, {-1, 1}}}, Request{})
	if r.DensityRise == nil || math.Abs(float64(*r.DensityRise)-0.8) > 1e-9 {
		t.Errorf("rise %v; expected 0.80", r.DensityRise)
	}
}

// Curves whose time is not known leave the growth of the others alone.
func TestUnknownTimes(t *testing.T) {
	f := plover(t)
	with, err := Evaluate(f, Request{})
	if err != nil {
		t.Fatal(err)
	}
	f.Curves = append(f.Curves, f.Curves[0])
	f.Curves[4].Time = 0
	and, err := Evaluate(f, Request{})
	if err != nil || and.Growth == nil || *and.Growth != *with.Growth || and.Curves[4].Time != nil {
		t.Errorf("growth %v, %v; expected %v", and.Growth, err, with.Growth)
	}
}

// What a person smooths by is the reading error, unless they say another.
func TestSmoothingStatesTheReadingError(t *testing.T) {
	high := func(r Request) float64 {
		r.Smooth, r.Target = 0.01, 0.6
		out, err := Evaluate(plover(t), r)
		if err != nil {
			t.Fatal(err)
		}
		return *out.Target.High
	}
	if got, want := high(Request{}), high(Request{Errors: Errors{Reading: 0.01}}); got != want {
		t.Errorf("%g s; stated apart %g s", got, want)
	}
}

func TestRequestsRefused(t *testing.T) {
	for want, r := range map[string]Request{
		"smoothing: reading error 0.3; expected above 0, up to 0.2":                             {Smooth: 0.3},
		"smoothing: reading error NaN; expected above 0, up to 0.2":                             {Smooth: Density(math.NaN())},
		"bootstrap: -1 rounds; expected 1 to 10000":                                             {Rounds: -1},
		"box speed: 0; expected above zero":                                                     {SpeedAnchor: &SpeedAnchor{}},
		"errors: reading error 0, scatter 0.6; expected 0 to 0.2, and 0 to 0.5 of the gradient": {Errors: Errors{Scatter: 0.6}},
		"f: 5:00: smoothing: 4 readings; expected 5 to 100":                                     {Smooth: 0.02},
	} {
		if _, err := Evaluate(Family{Name: "f", Curves: []Curve{sampled(-3, 0.5, 0.1, 0.1, 0.4, 0.8)}}, r); err == nil || err.Error() != want {
			t.Errorf("%v; expected %s", err, want)
		}
	}
	for want, c := range map[string]Curve{
		"f: 5:00: 1 readings; expected at least 2":                                    sampled(-3, 1, 0.1),
		"f: 5:00: reading 2: log H -3 after -3; expected it to rise by 1e-06 or more": sampled(-3, 0, 0.1, 0.2),
		"f: 5:00: reading 2: density 7; expected a density from -0.2 to 6":            sampled(-3, 1, 0.1, 7),
		"f: 5:00: reading 1: density NaN; expected a density from -0.2 to 6":          sampled(-3, 1, math.NaN(), 1),
		"f: 5:00: reading 2: log H 12; expected a log exposure from -10 to 10":        sampled(-3, 15, 0.1, 1),
	} {
		if _, err := Evaluate(Family{Name: "f", Curves: []Curve{c}}, Request{}); err == nil || err.Error() != want {
			t.Errorf("%v; expected %s", err, want)
		}
	}
}

func TestDevelopments(t *testing.T) {
	out, err := Evaluate(five(t), Request{Smooth: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	w := PrintConditionsFor(0.6)
	all, err := out.Developments(w)
	if err != nil || len(all) != 5 {
		t.Fatalf("%v, %v", all, err)
	}
	last := 0.0
	for i, name := range []string{"N-2", "N-1", "N", "N+1", "N+2"} {
		d := all[i]
		// paper 1.08 over 1.80 log H, less 0.301 for each stop (arithmetic)
		want := 1.08 / (1.80 - 0.30103*float64(i-2))
		if d.Name != name || math.Abs(d.Wanted-want) > 1e-5 {
			t.Errorf("%s: %g; expected %s: %g", d.Name, d.Wanted, name, want)
		}
		if d.Target == nil || d.Target.Time <= last {
			t.Errorf("%s: %+v; expected a time over %g s", name, d.Target, last)
			continue
		}
		last = d.Target.Time
		b, err := out.AtPublishedTime(time.Duration(d.Target.Time*1e9), w)
		if err != nil || math.Abs(b.Stops-float64(i-2)) > 1e-6 || math.Abs(b.Over-(want-0.6)) > 1e-5 || b.Untested {
			t.Errorf("borrowing the time of %s: %+v, %v; expected that many stops", name, b, err)
		}
	}
	if b, err := out.AtPublishedTime(time.Hour, w); err != nil || !b.Untested || b.Over <= 0 {
		t.Errorf("an hour: %+v, %v; expected overdeveloped and untested", b, err)
	}
	if _, err := out.AtPublishedTime(0, w); err == nil {
		t.Error("no time at all; expected an error")
	}
	if _, err := (Results{}).AtPublishedTime(time.Hour, w); !errors.Is(err, ErrTooFewSheets) {
		t.Errorf("without growth: %v", err)
	}
	if _, err := (Results{}).Developments(w); !errors.Is(err, ErrTooFewSheets) {
		t.Errorf("without growth: %v", err)
	}
	for _, w := range []PrintConditions{{}, {1.05, 0.4, 0.4}, {1.05, LogH(math.NaN()), 0.4}, {-1, 2, 0}, {1, 2, -0.1}} {
		if g, err := w.Gradient(); err == nil {
			t.Errorf("%+v: %g; expected an error", w, g)
		}
	}
}

func TestFamiliesJoin(t *testing.T) {
	f := Join(Family{Name: "a", Scale: LuxSeconds, Curves: make([]Curve, 2), Notes: []string{"n"}}, Family{Name: "b", Curves: make([]Curve, 1)})
	if f.Name != "a, b" || f.Scale != Relative || len(f.Curves) != 3 || len(f.Notes) != 1 || f.Label(2) != "curve 3" {
		t.Errorf("%+v", f)
	}
}

func TestSeries(t *testing.T) {
	for _, n := range []int{2, 3, 4, 5, 6, 8, 12} {
		times, err := TestTimes(8*time.Minute, n)
		if err != nil || len(times) != n {
			t.Fatalf("%d: %v, %v", n, times, err)
		}
		product := 0.0
		for i, d := range times {
			product += math.Log(minutes(d)/8) / float64(n)
			if i == 0 {
				continue
			}
			ratio := float64(d) / float64(times[i-1])
			if n <= 6 && math.Abs(ratio/1.4-1) > 0.05 || ratio > 1.45 {
				t.Errorf("%d sheets: %v then %v", n, times[i-1], d)
			}
		}
		if math.Abs(product) > 0.03 {
			t.Errorf("%d sheets: %v do not lie round 8 min", n, times)
		}
		if span := float64(times[n-1]) / float64(times[0]); span > 5.6 {
			t.Errorf("%d sheets span %.1f times", n, span)
		}
	}
	for _, c := range []struct {
		guess time.Duration
		n     int
	}{{8 * time.Minute, 1}, {8 * time.Minute, 201}, {0, 4}, {time.Second, 4}, {20 * time.Hour, 6}, {time.Minute, 100}} {
		if times, err := TestTimes(c.guess, c.n); err == nil {
			t.Errorf("%d round %v: %v; expected an error", c.n, c.guess, times)
		}
	}
}

// More sheets find a time better, by about the root of their number; greater
// errors find it worse.
func TestExpect(t *testing.T) {
	width := func(n int, e Errors) float64 {
		times, err := TestTimes(8*time.Minute, n)
		if err != nil {
			t.Fatal(err)
		}
		x, err := ForecastTest(times, 8*time.Minute, 0.58, e)
		if err != nil || x.Low == nil || x.High == nil || *x.Low > 485 || *x.High < 475 || x.Missed > 0.05 {
			t.Fatalf("%d sheets: %+v, %v", n, x, err)
		}
		return *x.High - *x.Low
	}
	usual := width(4, Errors{Reading: 0.01})
	if w := width(16, Errors{Reading: 0.01}); w < 0.35*usual || w > 0.7*usual {
		t.Errorf("16 sheets: %.0f s wide; 4 sheets: %.0f; expected about half", w, usual)
	}
	if w := width(4, Errors{Reading: 0.01, Scatter: 0.08}); w < 1.5*usual {
		t.Errorf("twice the scatter: %.0f s wide; expected about twice %.0f", w, usual)
	}
	for _, times := range [][]time.Duration{nil, {time.Minute}} {
		if _, err := ForecastTest(times, time.Minute, 0.58, Errors{}); err == nil {
			t.Errorf("%v; expected an error", times)
		}
	}
	if _, err := ForecastTest([]time.Duration{0, time.Minute}, time.Minute, 0.58, Errors{}); err == nil {
		t.Error("a time of nothing; expected an error")
	}
}

// The simulated curve has the gradient it is asked for.
func TestToeSlope(t *testing.T) {
	for _, g := range []float64{0.2, 0.58, 1, 2} {
		slope := toeSlope(g)
		c := Curve{}
		for i := range 400 {
			x := -1 + 0.01*float64(i)
			if d := toe(slope, x); d < 6 {
				c.Readings = append(c.Readings, Reading{LogH(x), Density(d)})
			}
		}
		zero := Density(0)
		c.Base = &zero
		c.Time = time.Minute
		r, _ := evaluated(t, c, Request{})
		if r.AverageGradient == nil || math.Abs(*r.AverageGradient-g) > 1e-4 {
			t.Errorf("%g: %v", g, r.AverageGradient)
		}
	}
}

// 1.05/(2.2 - 0.4) of a diffusion enlarger asks for a range of 1.05 (Stroebel et al.,
// from memory).
func TestAims(t *testing.T) {
	low, high := PrintConditions{Paper: 1.05, Subject: 2.2, Flare: 0.4}.AimDensities(0.16)
	if math.Abs(float64(low)-0.26) > 1e-12 || math.Abs(float64(high)-1.31) > 1e-12 {
		t.Errorf("%.3f to %.3f; expected 0.26 to 1.31", float64(low), float64(high))
	}
}
