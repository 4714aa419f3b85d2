package curve

// The figures that intervals and judgements of readings go by, one by one: each against
// arithmetic or a printed table.

import (
	"math"
	"slices"
	"testing"
	"time"
)

// Chi-square at 1 % is 9.210 with two degrees of freedom, 6.635 with one (printed tables).
// Of four sheets two are left, with a time of induction one; of two none.
func TestMisfit(t *testing.T) {
	level := func(float64) float64 { return 0.5 }
	sheets := func(n int, chi2 float64) (list []measuredSheet) {
		for range n {
			list = append(list, measuredSheet{minutes: 8, gradient: 0.5})
		}
		list[0].gradient += math.Sqrt(chi2) * 0.05 * 0.5
		return list
	}
	stated := Request{Errors: Errors{Scatter: 0.05}}
	induction := stated
	induction.Induction = true
	for _, c := range []struct {
		n          int
		chi2, want float64
		r          Request
	}{
		{4, 9.15, 1, stated}, {4, 9.25, math.Sqrt(9.25 / 2), stated},
		{4, 6.60, 1, induction}, {4, 6.70, math.Sqrt(6.70), induction},
		{3, 6.60, 1, stated}, {3, 6.70, math.Sqrt(6.70), stated},
		{2, 50, 1, stated}, {3, 50, 1, induction}, {4, 50, 1, Request{}},
	} {
		if got := misfit(sheets(c.n, c.chi2), level, c.r); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%d sheets, chi-square %g, %+v: %g; expected %g", c.n, c.chi2, c.r.Errors, got, c.want)
		}
	}
	readings := sheets(4, 9.25)
	for i := range readings {
		readings[i].reading = 0.025 // as much again
	}
	if got := misfit(readings, level, stated); got != 1 {
		t.Errorf("with errors of reading twice the variance: %g; expected 1", got)
	}
}

// Rounds that read too much say that what was read is too much: differences of 0 to 100 from
// the truth put the interval below the stated value, its ends a twentieth from theirs.
func TestIntervalsAreReversed(t *testing.T) {
	b := &bootstrap{rounds: 101}
	var seen []float64
	for i := range 101 {
		seen = append(seen, 7+float64(i))
	}
	stated := 200.0
	got := b.interval(&stated, []float64{7}, slices.Clone(seen), 0, 1)
	if got == nil || math.Abs(got.Low-105) > 1e-9 || math.Abs(got.High-195) > 1e-9 {
		t.Errorf("%+v; expected 105 to 195", got)
	}
	// a bias of 50 was taken off already; twice as wide
	got = b.interval(&stated, []float64{7}, slices.Clone(seen), 50, 2)
	if got == nil || math.Abs(got.Low-110) > 1e-9 || math.Abs(got.High-290) > 1e-9 {
		t.Errorf("%+v; expected 110 to 290", got)
	}
	if b.interval(&stated, []float64{7}, seen[:50], 0, 1) != nil || b.interval(nil, []float64{7}, seen, 0, 1) != nil {
		t.Error("an interval of half the rounds, or of nothing")
	}
	if bias := b.bias([]float64{7}, seen); math.Abs(bias-50) > 1e-9 {
		t.Errorf("bias %g; expected 50", bias)
	}
}

// Before a test k is taken to be 0.8 over the geometric mean of its times: of 4 and 16 min that is 8 min, 0.1 a
// minute; the arithmetic one would be 10. Half believe in no induction, up to 3 min, or to 0.95 of the shortest time.
func TestWhatIsBelievedBeforehand(t *testing.T) {
	p := priorFor([]measuredSheet{{minutes: 4}, {minutes: 16}}, false)
	if math.Abs(p.k-0.1) > 1e-12 || p.inductions[0] != (weighted{0, 0.5}) || len(p.inductions) != 8 || math.Abs(p.inductions[7].value-3*6.5/7) > 1e-12 {
		t.Errorf("%+v", p)
	}
	if p := priorFor([]measuredSheet{{minutes: 2}}, false); math.Abs(p.inductions[7].value-1.9*6.5/7) > 1e-12 {
		t.Errorf("of a sheet at 2 min: %+v", p.inductions)
	}
	b := newWeigher([]measuredSheet{{minutes: 4}, {minutes: 16}}, func(float64) float64 { return 0.5 }, p, nil, nil)
	if math.Abs(b.middle-8) > 1e-12 {
		t.Errorf("the middle of 4 and 16 min is %g", b.middle)
	}
}

// One curve's intervals are 1.15 times as wide as its rounds, gamma's 1.3 times (curveinterval.go says why): even
// differences of 0 to 1, of which the middle nine tenths are 0.9.
func TestIntervalsOfOneCurve(t *testing.T) {
	b := &bootstrap{rounds: 101, truth: bootstrapValues{gradient: []float64{0}, index: []float64{0}, gamma: []float64{0}}}
	even := func() (list []float64) {
		for i := range 101 {
			list = append(list, float64(i)/100)
		}
		return list
	}
	zero := 0.0
	in := b.intervals(Result{AverageGradient: &zero, ContrastIndex: &zero, Gamma: &zero}, bootstrapValues{gradient: even(), index: even(), gamma: even()})
	for what, c := range map[string][2]float64{"average gradient": {in.AverageGradient.High - in.AverageGradient.Low, 1.15},
		"contrast index": {in.ContrastIndex.High - in.ContrastIndex.Low, 1.15}, "gamma": {in.Gamma.High - in.Gamma.Low, 1.3}} {
		if math.Abs(c[0]-0.9*c[1]) > 1e-9 {
			t.Errorf("%s: %.4f wide; expected %.4f", what, c[0], 0.9*c[1])
		}
	}
}

// The speed point's interval goes by densities. Of a toe that rises as x squared the speed point is 0.3162; rounds
// whose densities there are off by 0.02 either way, 0.01 too high on the average, leave 1.15 x 1.6449 x 0.02 =
// 0.0378 round a density of 0.11 that belongs to the true point: the roots of 0.0722 and 0.1478, 0.2687 and 0.3845 (by
// hand), the longer end before. Where they are off by 0.06 and 0.5, the readings' own ends are all that is known.
func TestTheIntervalOfASpeedPoint(t *testing.T) {
	var x, y []float64
	for i := range 101 {
		x = append(x, float64(i)/100)
		y = append(y, 0.2+x[i]*x[i])
	}
	point := LogH(math.Sqrt(0.1))
	r := Result{SpeedPoint: &point, BaseFog: 0.2, Curve: NewInterpolant(x, y)}
	for off, want := range map[float64]Interval{0.02: {0.2687, 0.3845}, 0.06: {0, math.Sqrt(0.11 + 1.15*1.6449*0.06)}, 0.5: {0, 1}} {
		var over []float64
		for range 50 {
			over = append(over, 0.01-off, 0.01+off)
		}
		got := (&bootstrap{rounds: 100}).intervals(r, bootstrapValues{over: over}).SpeedPoint
		if got == nil || math.Abs(got.Low-want.Low) > 1e-3 || math.Abs(got.High-want.High) > 1e-3 {
			t.Errorf("off by %g: %+v; expected %+v", off, got, want)
		}
	}
	if in := (&bootstrap{rounds: 100}).intervals(r, bootstrapValues{over: make([]float64, 9)}).SpeedPoint; in != nil {
		t.Errorf("%+v of nine rounds", in)
	}
}

// A round in a hundred that lies far off does not widen what readings are taken to leave of a gradient: the
// middle nine tenths of even steps from 0.5 to 0.6 are 0.09, and those of a normal distribution 2 x 1.645
// standard deviations (printed tables): 0.0274. Too few rounds are no measure: the root of 2 over 1.30.
func TestWhatReadingsLeaveIsRobust(t *testing.T) {
	b := &bootstrap{rounds: 101, truth: bootstrapValues{gradient: []float64{0.55}}}
	var seen []float64
	for i := range 101 {
		seen = append(seen, 0.5+0.001*float64((37*i)%101))
	}
	for _, wild := range []float64{0.6, 3} {
		seen[slices.Index(seen, slices.Max(seen))] = wild
		if got := b.deviation(bootstrapValues{gradient: slices.Clone(seen)}, 0.02); math.Abs(got-0.09/(2*1.6449)) > 1e-4 {
			t.Errorf("%.4f with %g among them; expected 0.0274", got, wild)
		}
	}
	if got := b.deviation(bootstrapValues{gradient: seen[:9]}, 0.02); math.Abs(got-0.02*math.Sqrt2/1.3) > 1e-9 {
		t.Errorf("of nine rounds %.4f; expected 0.0218", got)
	}
}

// What a time of induction explains is no scatter: sheets of 1.2 (1 - exp(-0.12 (t - 2))) to the digit are not
// said to scatter, though the curve without induction misses them by more than is stated; errors are then in
// proportion to the curve that fits. Sheets that bend the other way scatter.
func TestInductionIsNoScatter(t *testing.T) {
	for _, c := range []struct {
		induction float64
		off       [6]float64
		scatters  bool
	}{{2, [6]float64{}, false}, {2, [6]float64{0.1, -0.1, 0.1, -0.1, 0.1, -0.1}, true}, {0, [6]float64{0.25, 0, -0.1, -0.1, 0, 0.1}, true}} {
		var sheets []Sheet
		var measured []measuredSheet
		for i, m := range []float64{3.5, 5, 7, 9.5, 13.5, 19} {
			g := 1.2 * -math.Expm1(-0.12*(m-c.induction)) * (1 + c.off[i])
			sheets = append(sheets, Sheet{fromMinutes(m), g})
			measured = append(measured, measuredSheet{minutes: m, gradient: g, reading: 0.005})
		}
		out := Results{sheets: sheets}
		g, err := FitGrowth(sheets, false)
		if err != nil {
			t.Fatal(err)
		}
		r := Request{Errors: Errors{Scatter: 0.02}}
		if misfit(measured, func(m float64) float64 { return g.At(fromMinutes(m)) }, r) == 1 {
			t.Fatalf("%+v: the curve without induction fits", c)
		}
		fitted, widened := out.explained(measured, g, r)
		if (widened > 1) != c.scatters {
			t.Errorf("%+v: %.2f times as much", c, widened)
		}
		if want := 1.2 * -math.Expm1(-0.12*1.5); !c.scatters && math.Abs(fitted(3.5)-want) > 0.001 {
			t.Errorf("errors in proportion to %.3f at 3:30; expected %.3f", fitted(3.5), want)
		}
	}
}

// Two distributions, even over 0 to 1 and over 3 to 4, and nine tenths of each: from a tenth of the one to
// nine tenths of the other, 0.1 to 3.9. Where they are one, twentieths: 0.05 to 0.95. Even over 0 to 1 and over 0.1 to
// 1.1: with tails p the first holds 1.1 - p, at most 1, less p: from 0.1 on, so that p is a tenth for the
// far end, and 0.1 to 1.0 holds nine tenths of both.
func TestIntervalsForEach(t *testing.T) {
	even := func(from, to float64) distribution {
		return distribution{func(p float64) float64 { return from + p*(to-from) },
			func(x float64) float64 { return max(0, min(1, (x-from)/(to-from))) }}
	}
	for _, c := range []struct {
		list []distribution
		want Interval
	}{
		{[]distribution{even(0, 1), even(3, 4)}, Interval{0.1, 3.9}},
		{[]distribution{even(3, 4), even(0, 1)}, Interval{0.1, 3.9}},
		{[]distribution{even(0, 1)}, Interval{0.05, 0.95}},
		{[]distribution{even(0, 1), even(0, 1)}, Interval{0.05, 0.95}},
		{[]distribution{even(0, 1), even(0.1, 1.1)}, Interval{0.1, 1.0}},
		{[]distribution{even(0, 1), even(0.05, 1.05)}, Interval{0.075, 0.975}}, // p and 1.05 - p hold 1.05 - 2 p of the first: p = 0.075
	} {
		if got := forEach(c.list); math.Abs(got.Low-c.want.Low) > 0.001 || math.Abs(got.High-c.want.High) > 0.001 {
			t.Errorf("%+v; expected %+v", got, c.want)
		}
	}
}

// weightBelow is the inverse of weightedQuantile: of 1, 2 and 4 with weights 1, 2 and 1 the middles lie at 0.5, 2 and
// 3.5 (by hand).
func TestWeightBelow(t *testing.T) {
	list := []weighted{{1, 1}, {2, 2}, {4, 1}}
	for x, want := range map[float64]float64{0.9: 0, 1: 0.5, 1.5: 1.25, 2: 2, 3: 2.75, 4: 4, 5: 4} {
		if got := weightBelow(list, x); math.Abs(got-want) > 1e-12 {
			t.Errorf("below %g: %g; expected %g", x, got, want)
		}
	}
}

// Times of a test are whole 15 s from 4 min on, 5 s below (contract). 8 min / 1.4^1.5 is 289.8 s,
// 200 s / 1.4^0.5 is 169.0 s.
func TestTimesAreThoseOfAHand(t *testing.T) {
	four, _ := TestTimes(8*time.Minute, 4)
	two, _ := TestTimes(200*time.Second, 2)
	if four[0] != 285*time.Second || two[0] != 170*time.Second {
		t.Errorf("%v, %v; expected 4:45 and 2:50", four[0], two[0])
	}
}

// What is not said is the usual: a forecast without errors is that of 0.02 and 4 %, and no
// other.
func TestForecastGoesByTheUsualErrors(t *testing.T) {
	times, _ := TestTimes(8*time.Minute, 3)
	forecast := func(e Errors) float64 {
		f, err := ForecastTest(times, 8*time.Minute, 0.58, e)
		if err != nil {
			t.Fatal(err)
		}
		return *f.High - *f.Low
	}
	usual := forecast(Errors{})
	if same := forecast(Errors{Reading: 0.02, Scatter: 0.04}); same != usual {
		t.Errorf("%g s wide, with 0.02 and 4 %% stated %g", usual, same)
	}
	if more := forecast(Errors{Scatter: 0.05}); more == usual {
		t.Error("5 % from sheet to sheet are forecast as 4 %")
	}
}

// The errors of a forecast are the scatter of the times found. Of many sheets at two times the
// time's variance is that of a straight interpolation: with a scatter alone of s a sheet, and n at
// each of two times t1, t2 whose gradients are g1, g2 round the target, the gradient at the
// middle is off by s g/sqrt(2n), and the time by that over the slope of the growth there. A film at
// half its limit at t has the slope ln 2 / (2 t) of the limit, so dt/t = s/(sqrt(2n) ln 2).
func TestForecastScattersAsTheSheets(t *testing.T) {
	var times []time.Duration
	for range 8 {
		times = append(times, 6*time.Minute, 10*time.Minute+40*time.Second)
	}
	f, err := ForecastTest(times, 8*time.Minute, 0.58, Errors{Reading: 0.001, Scatter: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	want := 2 * 1.645 * 0.05 / (4 * math.Ln2) * 480
	if got := *f.High - *f.Low; math.Abs(got/want-1) > 0.15 {
		t.Errorf("%.1f s wide; expected about %.1f", got, want)
	}
}

// A reading is a slip from four errors off the line of its neighbours on, at an end from four
// and a half below (our own rules, as outliers.go states them).
func TestWhereSlipsBegin(t *testing.T) {
	line := func(at int, off float64) Curve {
		c := Curve{}
		for i := range 15 {
			c.Readings = append(c.Readings, Reading{LogH(0.15 * float64(i)), Density(0.1 + 0.09*float64(i))})
		}
		c.Readings[at].Density += Density(off)
		return c
	}
	const e = 0.02
	for _, c := range []struct {
		at   int
		off  float64
		slip bool
	}{{7, 3.9 * e, false}, {7, 4.1 * e, true}, {7, -3.9 * e, false}, {7, -4.1 * e, true}} {
		if got := line(c.at, c.off).Outliers(e); (len(got) > 0) != c.slip || c.slip && got[0] != c.at {
			t.Errorf("reading %d off by %.2f errors: %v; slip %v expected", c.at, c.off/e, got, c.slip)
		}
	}
}

// At an end only a fall below the neighbour counts, and from four and a half errors on; of a flat
// curve the others tell nothing more.
func TestWhereSlipsBeginAtTheEnds(t *testing.T) {
	const e = 0.02
	for off, slip := range map[float64]bool{-4.4 * e: false, -4.6 * e: true, 4.6 * e: false} {
		c := Curve{}
		for i := range 15 {
			c.Readings = append(c.Readings, Reading{LogH(0.15 * float64(i)), 0.1})
		}
		c.Readings[14].Density += Density(off)
		if got := c.Outliers(e); (len(got) > 0) != slip {
			t.Errorf("the last reading off by %.1f errors: %v; slip %v expected", off/e, got, slip)
		}
	}
}

// A reading error is estimated without bias from curves that bend, from sheets of coarse and
// uneven steps not at all, and as next to nothing from exact readings.
func TestReadingErrorIsEstimated(t *testing.T) {
	rng := newRand(31)
	for _, e := range []float64{0.01, 0.02} {
		sum := 0.0
		const tests = 60
		for range tests {
			var curves []Curve
			for _, contrast := range []float64{0.5, 0.7, 0.9} {
				curves = append(curves, readSheet(rng, normalToe, contrast, e, false))
			}
			got, ok := readingErrorOf(curves)
			if !ok {
				t.Fatal("no error of 63 readings")
			}
			sum += float64(got) / tests
		}
		// one of 54 differences is good to a seventh or so, 60 of them to 2 %
		if math.Abs(sum/e-1) > 0.08 {
			t.Errorf("%.4f on the average; expected %.2f", sum, e)
		}
	}
	if e, ok := readingErrorOf([]Curve{readSheet(rng, normalToe, 0.7, 0, false)}); !ok || e >= exactReadings {
		t.Errorf("exact readings: %g; expected under %g", float64(e), exactReadings)
	}
	coarse := Curve{}
	for i := range 20 {
		coarse.Readings = append(coarse.Readings, Reading{LogH(0.3 * float64(i)), Density(0.1 * float64(i))})
	}
	if _, ok := readingErrorOf([]Curve{coarse}); ok {
		t.Error("readings 0.3 apart tell their error")
	}
}

// The third divided difference at the scale of one reading: of equal steps the weights are
// 1, -3, 3, -1 over the root of 20 (arithmetic); a parabola has none.
func TestThirdDifferences(t *testing.T) {
	x := []float64{0, 1, 2, 3}
	x[1], x[2], x[3] = 0.1, 0.2, 0.3
	if got := thirdDifferences(x, []float64{0, 0, 1, 0}); len(got) != 1 || math.Abs(got[0]-3/math.Sqrt(20)) > 1e-12 {
		t.Errorf("%v; expected %.4f", got, 3/math.Sqrt(20))
	}
	uneven := []float64{0, 0.1, 0.3, 0.45}
	if got := thirdDifferences(uneven, []float64{0, 0.01, 0.09, 0.2025}); len(got) != 1 || got[0] > 1e-12 {
		t.Errorf("%v of a parabola; expected 0", got)
	}
}

// Straight lines have their own slope for gamma: all 21 readings tell it, to 0.02/(0.15 sqrt(770)) =
// 0.005, where those over 0.60 log H alone tell it to 0.042, and the steepest of them 0.05 too high.
// The interval is no more than half as wide again as the values found scatter.
func TestGammaOfAStraightLine(t *testing.T) {
	rng := newRand(5)
	var mean, square, width float64
	const tests = 80
	for range tests {
		c := readSheet(rng, func(x float64) float64 { return x + 1.3 }, 0.6, 0.02, false)
		out, err := Evaluate(Family{Curves: []Curve{c}}, Request{Rounds: 50, Intervals: true, Errors: Errors{Scatter: 0.001}})
		if err != nil {
			t.Fatal(err)
		}
		off, in := *out.Curves[0].Gamma-0.6, out.Curves[0].Intervals.Gamma
		mean, square, width = mean+off/tests, square+off*off/tests, width+(in.High-in.Low)/tests
	}
	spread := math.Sqrt(square)
	if math.Abs(mean) > 0.015 || spread > 0.03 || width > 1.5*2*1.645*spread {
		t.Errorf("off by %.4f on the average, by %.4f each time, interval %.4f wide", mean, spread, width)
	}
}

// How far a metered tone lies over the speed point, by hand: q K/S over 0.8/S with q = pi/4 of a lens that passes 0.90,
// its vignetting 0.98 and cos^4 of 10 degrees 0.941, 0.65 (ISO 2720 and ISO 6, from memory); K = 12.5, and 14, as
// GNU units has them: 1.007 and 1.056.
func TestTheMeteredToneOverTheSpeedPoint(t *testing.T) {
	q := math.Pi / 4 * 0.90 * 0.98 * math.Pow(math.Cos(10*math.Pi/180), 4)
	over := -float64(AnchorFromMeter(50, 0).SpeedPoint)
	if least, most := math.Log10(q*12.5/0.8), math.Log10(q*14/0.8); math.Abs(over-least) > 0.02 || over > most {
		t.Errorf("%.3f log H; expected %.3f to %.3f", over, least, most)
	}
}

// Limit and rate are calibrated where films differ as much as is believed of them beforehand: 90 % without a time of
// induction, and with one spread over those that are believed possible (S. Talts and others 2018, simulation-based
// calibration, from memory). Gradients are made, not readings; what is not evaluated is a draw without growth. By the
// rule of forEach a film without induction lies beyond the end of long growth alone.
func TestLimitAndRateAreCalibrated(t *testing.T) {
	tests := every(100, 2000)
	for i, induced := range []bool{false, true} {
		rng := newRand(uint64(610 + i))
		var limits, rates tally
		for range tests {
			times, _ := TestTimes(fromMinutes(8), 4)
			first := minutes(times[0])
			induction := 0.0
			if induced {
				induction = min(longestUnfitted, maxT0*first) * rng.Float64()
			}
			k := usualCurvature / 8 * math.Exp(curvatureSpread*rng.NormFloat64())
			limit := (0.5 + 0.2*rng.Float64()) / grown(k, 8-induction)
			out := Results{}
			var measured []measuredSheet
			for _, d := range times {
				g := limit*grown(k, minutes(d)-induction)*(1+0.04*rng.NormFloat64()) + 0.012*rng.NormFloat64()
				out.sheets = append(out.sheets, Sheet{d, max(g, 0.02)})
				measured = append(measured, measuredSheet{minutes: minutes(d), gradient: max(g, 0.02), reading: 0.012})
			}
			out.grow(measured, Request{Intervals: true, Errors: Errors{Scatter: 0.04, Sessions: new(float64), Reading: 0.02}})
			if in := out.GrowthIntervals; in != nil {
				limits.add(&in.Limit.Low, &in.Limit.High, limit)
				rates.add(&in.K.Low, &in.K.High, k)
			}
		}
		t.Logf("induction %v: limit %v, rate %v of %d", induced, limits, rates, limits.n())
		limits.checkOneEnded(t, "limit", false)
		rates.checkOneEnded(t, "rate", false)
		if far := rates.high; !induced && 1-atMost(far-1, rates.n(), 0.02) < chance {
			t.Errorf("%v: a film without induction lies beyond the far end", rates)
		}
	}
}
