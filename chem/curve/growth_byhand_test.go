package curve

// Growth, what is believed of it, and what follows for a development, in closed form.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

// The usual subject is 2.2 log H, less 0.4 of flare (Stroebel et al., from memory): for 0.6 a paper of 1.08. A film that has
// half of 1.2 after 8 min has 0.9 after 16: 0.3 over, which suits 1.08/0.9 = 1.2 instead of 1.8, two stops less.
func TestDevelopmentsByHand(t *testing.T) {
	w := PrintConditionsFor(0.6)
	if !(math.Abs(float64(w.Paper)-1.08) <= 1e-12) || w.Subject != 2.2 || w.Flare != 0.4 || !(math.Abs(float64(w.Shifted(1).Subject)-1.89897) <= 1e-5) {
		t.Errorf("%+v", w)
	}
	out := Results{Growth: &Growth{Limit: 1.2, K: PerMinute(math.Ln2 / 8)}, sheets: []Sheet{{4 * time.Minute, 0.35}, {16 * time.Minute, 0.9}}}
	for m, c := range map[int]struct {
		over, stops float64
		untested    bool
	}{8: {0, 0, false}, 16: {0.3, 1.99316, false}, 4: {1.2*(1-math.Sqrt(0.5)) - 0.6, (1.8 - 1.08/(1.2*(1-math.Sqrt(0.5)))) / 0.30103, false}, 17: {0.324909, 2.10246, true}, 3: {-0.325233, -7.07587, true}} {
		got, err := out.AtPublishedTime(time.Duration(m)*time.Minute, w)
		if err != nil || !(math.Abs(got.Over-c.over) <= 1e-3) || got.Untested != c.untested || m <= 16 && m >= 4 && !(math.Abs(got.Stops-c.stops) <= 1e-3) || got.Wanted != 0.6 || !(math.Abs(got.Gradient-0.6-got.Over) <= 1e-12) {
			t.Errorf("%d min: %+v, %v; expected %+v", m, got, err, c)
		}
	}
	all, err := out.Developments(w)
	var names []string
	for _, d := range all {
		names = append(names, d.Name)
	}
	if err != nil || strings.Join(names, " ") != "N-2 N-1 N N+1 N+2" || all[2].Target == nil || !(math.Abs(all[2].Target.Time-480) <= 1e-6) {
		t.Errorf("%v, %v", names, err)
	}
	five, eight := 300.0, 480.0
	aims := Results{Curves: []Result{{Time: &five, BaseFog: 0.12}, {Time: &eight, BaseFog: 0.24}}, Target: &Target{Time: 310}}
	if sheet, _, _, ok := aims.Aims(w); !ok || sheet.BaseFog != 0.12 {
		t.Errorf("%+v; expected the first sheet", sheet)
	}
}

// Sheets that scatter more than stated make errors that many times as large, and it is said.
func TestScatterOverTheStated(t *testing.T) {
	out := Results{}
	var measured []measuredSheet
	for i, m := range []float64{3.5, 5, 7, 9.5, 13.5, 19} {
		g := 1.2 * -math.Expm1(-0.12*m) * (1 + []float64{0.08, -0.08, 0.08, -0.08, 0.08, -0.08}[i])
		out.sheets = append(out.sheets, Sheet{fromMinutes(m), g})
		measured = append(measured, measuredSheet{minutes: m, gradient: g, reading: 0.005})
	}
	r := Request{Errors: Errors{Scatter: 0.02, Sessions: new(float64)}}
	g, err := FitGrowth(out.sheets, false)
	if err != nil {
		t.Fatal(err)
	}
	_, times := out.explained(measured, g, r)
	if out.grow(measured, r); times < 2 || !(math.Abs(out.Errors.Sheets-0.02*times) <= 1e-12) || !(math.Abs(measured[3].reading-0.005*times) <= 1e-12) ||
		!strings.Contains(strings.Join(out.Notes, ""), fmt.Sprintf("scatter %.1f times as much", times)) {
		t.Errorf("%g times: %+v, %+v, %q", times, out.Errors, measured[3], out.Notes)
	}
	out.Notes = nil
	r.Errors.Scatter = 0.1
	if out.grow(measured, r); out.Errors.Sheets != 0.1 || strings.Contains(strings.Join(out.Notes, ""), "scatter") {
		t.Errorf("stated as it is: %+v, %q", out.Errors, out.Notes)
	}
}

// What was stated stands, and what was not is found: an error that is stated is neither estimated nor taken for exact readings; only
// errors that readings cannot tell, under 0.0025, smooth nothing by themselves.
func TestWhatIsStatedStands(t *testing.T) {
	r := Request{Errors: Errors{Reading: 0.01}}
	if err := r.complete(Family{}); err != nil || r.Errors.Reading != 0.01 || r.Exact || r.Rounds != 300 {
		t.Errorf("%+v, %v", r, err)
	}
	none := Request{}
	if err := none.complete(Family{}); err != nil || none.Errors.Reading != 0.02 || !none.Exact {
		t.Errorf("%+v, %v", none, err)
	}
	for _, c := range []struct {
		r    Request
		want Density
	}{{Request{Errors: Errors{Reading: 0.0024}}, 0}, {Request{Errors: Errors{Reading: 0.0026}}, 0.0026}, {Request{Smooth: 0.001}, 0.001}, {Request{Smooth: 0.01, Exact: true}, 0}} {
		if got := c.r.smoothing(21); got != c.want {
			t.Errorf("%+v: %g; expected %g", c.r, got, c.want)
		}
	}
	base := Density(0.1)
	c := sampled(-3, 0.5, 0.1, 0.1, 0.4, 0.8, 1.2, 1.6)
	c.Base = &base
	out, err := Evaluate(Family{Curves: []Curve{c}}, Request{Exact: true, Rounds: 1, Errors: Errors{Reading: 0.01}})
	if err != nil || !out.Errors.Stated || !(math.Abs(float64(out.Curves[0].DensityRange)-1.5) <= 1e-12) {
		t.Errorf("%+v, %v", out, err)
	}
	three := 3.0
	if *less(&three, 1) != 2 || less(nil, 1) != nil {
		t.Error("one less than three")
	}
	falls := sampled(-3, 0.5, 0.3, 0.15, 0.12, 0.1)
	falls.Base = &base
	if _, notes := evaluated(t, falls, Request{}); !strings.Contains(strings.Join(notes, ""), "begin above") {
		t.Errorf("notes %q", notes)
	}
}

// One growth curve that is believed alone has its intervals in closed form: the limit lies within 1.6449 standard deviations, and a
// gradient is reached by limit L at t0 - ln(1 - g/L)/k; for the next session the limit is off by its scatter too.
func TestIntervalsOfOneBelief(t *testing.T) {
	b := belief{{k: 0.1, t0: 1, limit: 1.2, sd: 0.03, sessions: 0.05, weight: 1}}
	at := func(limit float64) float64 { return 60 * (1 - math.Log(1-0.6/limit)/0.1) }
	for next, sd := range map[bool]float64{false: 0.03, true: math.Hypot(0.03, 0.05*1.2)} {
		low, high := b.time(0.6, next)
		if low == nil || high == nil || !(math.Abs(*low/at(1.2+1.644854*sd)-1) <= 1e-6) || !(math.Abs(*high/at(1.2-1.644854*sd)-1) <= 1e-6) {
			t.Errorf("next %v: %v to %v; expected %g to %g", next, *low, *high, at(1.2+1.644854*sd), at(1.2-1.644854*sd))
		}
	}
	in := b.intervals()
	if !(math.Abs(in.Limit.Low-(1.2-1.644854*0.03)) <= 1e-6) || !(math.Abs(in.Limit.High-(1.2+1.644854*0.03)) <= 1e-6) || in.K != (Interval{0.1, 0.1}) || in.Induction != (Interval{1, 1}) || in.Confidence != 0.9 {
		t.Errorf("%+v", in)
	}
	if low, high := b.time(1.22, false); low == nil || high != nil {
		t.Errorf("a gradient that the limit may not reach: %v to %v; expected no end", low, high)
	}
	// what weighs less than a fiftieth counts for nothing in an interval
	for weight, k := range map[float64]float64{0.019: 0.1, 0.021: 0.2} {
		two := belief{{k: 0.1, limit: 1.2, sd: 0.03, weight: 1 - weight}, {k: 0.2, t0: 2, limit: 1.2, sd: 0.03, weight: weight}}
		if in := two.intervals(); !(math.Abs(in.K.High-k) <= 1e-9) || !(math.Abs(in.K.Low-0.1) <= 1e-9) {
			t.Errorf("weight %g: %+v; expected up to %g", weight, in.K, k)
		}
	}
	for p, want := range map[float64]float64{0: 0.1, 0.25: 0.1, 0.5: 0.15, 0.75: 0.2, 1: 0.2} {
		even := belief{{k: 0.2, weight: 0.25}, {k: 0.1, weight: 0.25}, {k: 0.2, weight: 0.25}, {k: 0.1, weight: 0.25}}
		d := even.values(func(c growthBelief) float64 { return c.k })
		if got := d.quantile(p); !(math.Abs(got-want) <= 1e-12) || want == 0.15 && !(math.Abs(d.below(0.15)-0.5) <= 1e-12) {
			t.Errorf("quantile %g: %g; expected %g", p, got, want)
		}
	}
	if x, ok := rootOf(func(x float64) float64 { return x - 2 }, 1e-3, 100); !ok || !(math.Abs(x-2) <= 1e-6) {
		t.Errorf("%g, %v; expected 2", x, ok)
	}
	for _, outside := range []float64{1e-4, 101} {
		if x, ok := rootOf(func(x float64) float64 { return x - outside }, 1e-3, 100); ok {
			t.Errorf("a root at %g beyond the bounds", x)
		}
	}
}

// Two sheets of one session, and one of another, against the whole covariance matrix: variances of scatter and reading on the
// diagonal, the session's between the two. Inverse and determinant of two by two by hand. The limit of least squares is
// v'C^-1 g / v'C^-1 v; the fit -(g - L v)'C^-1 (g - L v)/2 - ln(det C)/2.
func TestFitAgainstTheWholeCovariance(t *testing.T) {
	sheets := []measuredSheet{{5, 0.45, 0.02, 0}, {8, 0.63, 0.015, 0}, {11, 0.74, 0.01, 1}}
	mean := map[float64]float64{5: 0.44, 8: 0.6, 11: 0.75}
	w := newWeigher(sheets, func(m float64) float64 { return mean[m] }, growthPrior{}, nil, nil)
	if !(math.Abs(w.middle-math.Cbrt(5*8*11)) <= 1e-12) {
		t.Errorf("middle %g min; expected %g", w.middle, math.Cbrt(5*8*11))
	}
	v := []float64{0.4, 0.55, 0.67}
	c := growthBelief{scatter: 0.04, sessions: 0.06}
	fits := w.fit(&c, v)
	var cov [3][3]float64
	for i, s := range sheets {
		for j, o := range sheets {
			if s.session == o.session {
				cov[i][j] = 0.06 * 0.06 * mean[s.minutes] * mean[o.minutes]
			}
		}
		cov[i][i] += math.Pow(0.04*mean[s.minutes], 2) + s.reading*s.reading
	}
	det := cov[0][0]*cov[1][1] - cov[0][1]*cov[1][0]
	product := func(a, b [3]float64) float64 {
		return (a[0]*(cov[1][1]*b[0]-cov[0][1]*b[1])+a[1]*(cov[0][0]*b[1]-cov[1][0]*b[0]))/det + a[2]*b[2]/cov[2][2]
	}
	g, of := [3]float64{0.45, 0.63, 0.74}, [3]float64(v)
	limit := product(of, g) / product(of, of)
	var off [3]float64
	for i := range off {
		off[i] = g[i] - limit*v[i]
	}
	want := -product(off, off)/2 - math.Log(det*cov[2][2])/2
	if !(math.Abs(c.limit-limit) <= 1e-9) || !(math.Abs(c.sd-1/math.Sqrt(product(of, of))) <= 1e-9) || !(math.Abs(fits-want) <= 1e-9) {
		t.Errorf("limit %g +- %g, fit %g; expected %g +- %g, %g", c.limit, c.sd, fits, limit, 1/math.Sqrt(product(of, of)), want)
	}
}

// Weights are sums to 1 of what their logarithms say, those under a millionth of the greatest left out; curves lie evenly in the
// logarithm of k from -3.5 to 3.5 spreads.
func TestWeightsByHand(t *testing.T) {
	b := (&weigher{}).normalised(belief{{k: 1, weight: 5}, {k: 2, weight: 5 - math.Log(3)}, {k: 3, weight: 5 - math.Log(0.9e6)}, {k: 4, weight: 5 - math.Log(1.1e6)}})
	if len(b) != 3 || !(math.Abs(b[0].weight-0.75) <= 1e-5) || !(math.Abs(b[1].weight-0.25) <= 1e-5) {
		t.Errorf("%+v", b)
	}
	list := growthPrior{k: 0.1, kSpread: 0.7}.curvatures(-3.5, 3.5)
	for i, z := range map[int]float64{0: -3.5, 10: -1.75, 20: 0, 40: 3.5} {
		if len(list) != 41 || !(math.Abs(list[i].value-0.1*math.Exp(0.7*z)) <= 1e-12) || !(math.Abs(list[i].weight-math.Exp(-z*z/2)) <= 1e-12) {
			t.Errorf("%d of %d: %+v", i, len(list), list[i])
		}
	}
	if grown(0.1, -1) != 0 || !(math.Abs(grown(0.1, 10)-(1-1/math.E)) <= 1e-12) {
		t.Error("a share that is grown")
	}
}

// A forecast of two sheets that only scatter, by 5 %, as TestForecastScattersAsTheSheets has it of sixteen; tests at one time alone all
// miss. Times from 5 min on are not advised against.
func TestForecastOfTwoSheets(t *testing.T) {
	times, e := []time.Duration{5 * time.Minute, 12*time.Minute + 48*time.Second}, Errors{Reading: 0.001, Scatter: 0.02}
	f, err := ForecastTest(times, 8*time.Minute, 0.58, e)
	if err != nil || f.Low == nil || f.High == nil {
		t.Fatalf("%+v, %v", f, err)
	}
	if want := 2 * 1.645 * 0.02 / (math.Sqrt2 * math.Ln2) * 480; !(math.Abs((*f.High-*f.Low)/want-1) <= 0.15) || !(math.Abs((*f.High+*f.Low)/960-1) <= 0.01) {
		t.Errorf("%.1f to %.1f s; expected about %.1f wide round 480", *f.Low, *f.High, want)
	}
	if f.Assumed.Limit != 1.16 || !(math.Abs(float64(f.Assumed.K)-math.Ln2/8) <= 1e-12) || f.Time != 480 || f.Missed > 0.02 || len(f.Notes) > 0 {
		t.Errorf("%+v", f)
	}
	// the middle nine tenths of 400 tests that are simulated one by one: between the 20th and the 21st, and the 380th and 381st, in order
	rng, found := rand.New(rand.NewPCG(2, bootstrapSeed)), []float64{}
	for range 400 {
		if s, ok := simulate(rng, f.Assumed, times, 0.58, e); ok {
			found = append(found, s)
		}
	}
	slices.Sort(found)
	if len(found) != 400 || !(math.Abs(*f.Low-(found[19]+0.95*(found[20]-found[19]))) <= 1e-6) || !(math.Abs(*f.High-(found[379]+0.05*(found[380]-found[379]))) <= 1e-6) {
		t.Errorf("%.4f to %.4f; expected between %v and %v of %d", *f.Low, *f.High, found[19:21], found[379:381], len(found))
	}
}

func TestForecastOfTestsThatMiss(t *testing.T) {
	f, err := ForecastTest([]time.Duration{4*time.Minute + 59*time.Second, 4*time.Minute + 59*time.Second}, 8*time.Minute, 0.58, Errors{Reading: 0.001})
	if err != nil || !(math.Abs(f.Missed-1) <= 1e-9) || f.Low != nil || len(f.Notes) != 1 {
		t.Errorf("%+v, %v", f, err)
	}
}
