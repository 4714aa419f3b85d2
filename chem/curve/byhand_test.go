package curve

// Small cases worked by hand: words and columns of files, times and densities as they are typed, rounds of the bootstrap
// where nothing is left to chance.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
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
// quantiles of 1/8, 3/8, 5/8 and 7/8: -1.15035, -0.31864 and the same above (printed tables).
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

// Words of a line by hand: quoted text keeps its blanks and may be empty; a comment ends the line; columns count characters.
func TestWordsOfALine(t *testing.T) {
	words, fault := splitLine(`é "b c" '' x"y"  7 # "z`, 3)
	var got []string
	for _, w := range words {
		got = append(got, fmt.Sprintf("%d:%d=%s", w.at.line, w.at.col, w.text))
	}
	if want := "3:1=é 3:3=b c 3:9= 3:12=x 3:13=y 3:18=7"; fault != "" || strings.Join(got, " ") != want {
		t.Errorf("%q, %q; expected %q", strings.Join(got, " "), fault, want)
	}
}

// Unusual shapes of a file that are sound, and some that are not.
func TestShapesOfCGATS(t *testing.T) {
	for name, c := range map[string]struct{ file, fault string }{
		"format begins on its line": {cgats("BEGIN_DATA_FORMAT\nSAMPLE_ID D_VIS", "BEGIN_DATA_FORMAT SAMPLE_ID\nD_VIS"), ""},
		"data begin on their line":  {cgats("BEGIN_DATA\n1 0.10", "BEGIN_DATA 1 0.10"), ""},
		"density first":             {cgats("SAMPLE_ID D_VIS", "D_VIS SAMPLE_ID", "1 0.10", "0.10 1", "2 0.56", "0.56 2", "3 1.20", "1.20 3"), ""},
		"quoted numbers backwards":  {cgats("1 0.10", "'3' 1.20", "3 1.20", "\"1\" 0.10"), ""},
		"a second format":           {cgats("NUMBER_OF_SETS", "BEGIN_DATA_FORMAT\nEND_DATA_FORMAT\nNUMBER_OF_SETS"), "a second BEGIN_DATA_FORMAT"},
		"a gap at once":             {cgats("2 0.56", "4 0.56", "3 1.20", "5 1.20"), "sample 4 follows 1"},
	} {
		f, err := Read("f", []byte(c.file), Options{})
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err != nil || f.Curves[0].Readings[0].Density != 0.10 || f.Curves[0].Readings[2].Density != 1.20 || !slices.Equal(f.Curves[0].Steps, []int{1, 2, 3}) {
			t.Errorf("%s: %+v, %v", name, f, err)
		}
	}
	two := []byte(cgats("NUMBER_OF_SETS 3", "NUMBER_OF_SETS 2", "3 1.20\n", "", "0.10", "1.30"))
	f, err := Read("f", two, Options{Tablet: []Density{0.05, 1}})
	if err != nil || f.Curves[0].Readings[0] != (Reading{-1, 0.56}) || f.Curves[0].Readings[1] != (Reading{-0.05, 1.30}) || f.Scale != Relative {
		t.Errorf("two samples: %+v, %v", f, err)
	}
	_, err = Read("f", []byte(cgats("D_VIS", "D_RED")), Options{Channel: Green})
	if err == nil || !strings.Contains(err.Error(), `one of those there: "D_RED"`) {
		t.Errorf("another channel: %v", err)
	}
	for _, fields := range [][]string{{"D_VIS", "D_BLUE"}, {"D_BLUE", "D_VIS"}} {
		s := cgatsTable{fields: []csvCell{{text: fields[0]}, {text: fields[1]}}}
		for _, v := range []float64{0.1, 0.5, 1} {
			cell := map[string]csvCell{"D_VIS": {text: fmt.Sprint(v)}, "D_BLUE": {text: fmt.Sprint(1.5 * v)}}
			s.sets = append(s.sets, []csvCell{cell[fields[0]], cell[fields[1]]})
		}
		if len(s.stain()) != 1 {
			t.Errorf("%v: no stain", fields)
		}
	}
	if (Curve{}).Step(0) != 1 || (Curve{}).Step(4) != 5 || (Curve{Steps: []int{7}}).Step(0) != 7 {
		t.Error("steps count from 1, where the file does not say")
	}
}

// A thousand rows and two hundred columns are read, no more.
func TestLargestCSV(t *testing.T) {
	rows := func(n int) []byte {
		var b strings.Builder
		b.WriteString("log_h,5m\n")
		for i := range n {
			fmt.Fprintf(&b, "%.3f,0.1\n", -9+0.01*float64(i))
		}
		return []byte(b.String())
	}
	columns := func(n int) []byte {
		return []byte("log_h" + strings.Repeat(",5m", n) + "\n-3" + strings.Repeat(",0.1", n) + "\n-2" + strings.Repeat(",0.2", n) + "\n")
	}
	for _, c := range []struct{ within, beyond []byte }{{rows(1000), rows(1001)}, {columns(200), columns(201)}} {
		if _, err := Read("f", c.within, Options{}); err != nil {
			t.Error(err)
		}
		if _, err := Read("f", c.beyond, Options{}); err == nil {
			t.Error("more are read")
		}
	}
}

// What is typed, by hand.
func TestTypedByHand(t *testing.T) {
	for text, want := range map[string]float64{"4 1/2": 4.5, "1/3": 1.0 / 3, "4 2/3": 4 + 2.0/3, "4,5": 4.5} {
		got, err := ParseDensity(text, true)
		if err != nil || !(math.Abs(float64(got.Density)-0.30103*want) <= 0.0006) {
			t.Errorf("%q stops: %+v, %v; expected %.3f", text, got, err, 0.30103*want)
		}
	}
	for text, want := range map[string]float64{"1e-1": 0.1, "1E+0": 1, "+.5": 0.5, "-0.1": -0.1} {
		if got, err := ParseDensity(text, false); err != nil || !(math.Abs(float64(got.Density)-want) <= 1e-12) {
			t.Errorf("%q: %+v, %v; expected %g", text, got, err, want)
		}
	}
	for _, text := range []string{"1-2", "e5", "1e", "--1", "1+"} {
		if got, err := ParseDensity(text, false); err == nil {
			t.Errorf("%q: %+v", text, got)
		}
	}
	if got, err := ParseTimes("5m"); err != nil || len(got) != 1 {
		t.Errorf("one time: %v, %v", got, err)
	}
	// 200 s x sqrt(1.4) = 236.6 s, under 4 min: to whole 5 s
	if two, _ := TestTimes(200*time.Second, 2); two[1] != 235*time.Second {
		t.Errorf("%v; expected 3:55", two[1])
	}
}

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

// Errors of a picture by hand: 0.01, 0.02 and one that is not known, of the usual sqrt(0.00025); with an error of 0.02 in all
// sqrt(0.00015) more lies on each; none counts under a quarter.
func TestVariancesByHand(t *testing.T) {
	c := Curve{Readings: make([]Reading, 3), Errors: []Density{0.01, 0.02, 0}}
	if e := pictureErrorOf([]Curve{c, {}}); !(math.Abs(float64(e)-math.Sqrt(0.00025)) <= 1e-12) {
		t.Errorf("%g; expected %g", float64(e), math.Sqrt(0.00025))
	}
	for e, want := range map[Density][3]float64{0.01: {0.4, 1.6, 1}, 0.02: {0.00025 / 0.0004, 0.00055 / 0.0004, 1}} {
		for i, got := range c.variances(e) {
			if !(math.Abs(got-want[i]) <= 1e-12) {
				t.Errorf("error %g, reading %d: %g; expected %g", float64(e), i, got, want[i])
			}
		}
	}
	c.Errors = []Density{0.001, 0.05, 0.05}
	if got := c.variances(0.01)[0]; !(math.Abs(got-0.0625) <= 1e-12) {
		t.Errorf("%g; expected a sixteenth", got)
	}
	if (Curve{Readings: make([]Reading, 3)}).variances(0.01) != nil {
		t.Error("variances of errors that are not known")
	}
}

// The smoothing spline as a penalised regression with whole matrices (Green and Silverman 1994, ch. 2, from memory): K = Q R^-1 Q',
// S = (V^-1 + lambda K)^-1 V^-1; the penalty is the one of 41, evenly spread in the logarithm from 1e-8 to 100, with the least sum of
// squares over v and 2 E^2 trace S.
func TestSmoothingAgainstWholeMatrices(t *testing.T) {
	x, v := []float64{0, 0.1, 0.3, 0.45, 0.5, 0.8, 0.9, 1.2, 1.25}, []float64{1, 2, 0.5, 1, 3, 1, 0.25, 1, 1.5}
	n := len(x)
	q, r := square(n), square(n)
	for j := range n - 2 {
		before, after := x[j+1]-x[j], x[j+2]-x[j+1]
		q[j][j], q[j+1][j], q[j+2][j] = 1/before, -1/before-1/after, 1/after
		r[j][j] = (before + after) / 3
		if j+1 < n-2 {
			r[j][j+1], r[j+1][j] = after/6, after/6
		}
	}
	r[n-2][n-2], r[n-1][n-1] = 1, 1 // no columns of Q
	ri := inverse(r)
	k := square(n)
	for a := range n {
		for b := range n {
			for i := range n - 2 {
				for j := range n - 2 {
					k[a][b] += q[a][i] * ri[i][j] * q[b][j]
				}
			}
		}
	}
	hat := func(lambda float64) [][]float64 {
		m := square(n)
		for a := range n {
			for b := range n {
				m[a][b] = lambda * k[a][b]
			}
			m[a][a] += 1 / v[a]
		}
		m = inverse(m)
		for a := range n {
			for b := range n {
				m[a][b] /= v[b]
			}
		}
		return m
	}
	for _, e := range []float64{0.005, 0.02, 0.1} {
		y := make([]float64, n)
		for i := range y {
			y[i] = x[i]*x[i]*0.6 + e*[]float64{1, -1, 0.5, -1.5, 0.3, 1.2, -0.7, 0.1, -0.4}[i]*math.Sqrt(v[i])
		}
		best, least := 0.0, math.Inf(1)
		for i := range 41 {
			lambda := math.Pow(10, -8+float64(i)/4)
			s := hat(lambda)
			risk := 0.0
			for a := range n {
				fit := 0.0
				for b := range n {
					fit += s[a][b] * y[b]
				}
				risk += 2*e*e*s[a][a] + (y[a]-fit)*(y[a]-fit)/v[a]
			}
			if risk < least {
				best, least = lambda, risk
			}
		}
		s := newSmoother(x)
		s.v = v
		s.choose(y, Density(e))
		if !(math.Abs(s.lambda/best-1) <= 1e-9) {
			t.Errorf("error %g: a penalty of %g; expected %g", e, s.lambda, best)
		}
		got, whole := make([]float64, n), hat(best)
		s.smooth(y, got)
		for a := range n {
			want := 0.0
			for b := range n {
				want += whole[a][b] * y[b]
			}
			if !(math.Abs(got[a]-want) <= 1e-9) {
				t.Errorf("error %g, reading %d: %.9f; expected %.9f", e, a, got[a], want)
			}
		}
		for share, want := range map[float64]float64{penaltyShare: 0.1, straightShare: 10, 1: 1} {
			d := &fitResult{readings: y, variances: v}
			if got := d.smootherFor(x, Density(e), share).lambda; !(math.Abs(got/(want*best)-1) <= 1e-9) {
				t.Errorf("error %g: %g of the penalty; expected %g", e, got/best, want)
			}
		}
	}
}

func square(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
	}
	return m
}

// inverse is Gauss and Jordan's, of a matrix that needs no pivots.
func inverse(m [][]float64) [][]float64 {
	n := len(m)
	a, b := square(n), square(n)
	for i := range n {
		copy(a[i], m[i])
		b[i][i] = 1
	}
	for c := range n {
		p := a[c][c]
		for j := range n {
			a[c][j], b[c][j] = a[c][j]/p, b[c][j]/p
		}
		for i := range n {
			f := a[i][c]
			for j := 0; i != c && j < n; j++ {
				a[i][j], b[i][j] = a[i][j]-f*a[c][j], b[i][j]-f*b[c][j]
			}
		}
	}
	return b
}

// The error of readings that scatter by turns: third differences weigh four neighbours 1, 3, 3, 1 over the root of 20, so errors of
// +-e are differences of 8 e/sqrt(20) all along. One reading off by 30 e, short of a slip, makes two far greater, which count as
// four medians over 0.6745. Of eleven readings eight differences are enough, of ten not.
func TestReadingErrorByHand(t *testing.T) {
	turns := func(n int, e, wild float64) (c Curve) {
		for i := range n {
			d := 0.1 + 0.09*float64(i) + e*float64(1-2*(i%2))
			if i == 8 {
				d += wild
			}
			c.Readings = append(c.Readings, Reading{LogH(0.15 * float64(i)), Density(d)})
		}
		return c
	}
	for n, ok := range map[int]bool{11: true, 10: false} {
		if got, told := readingErrorOf([]Curve{turns(n, 0.004, 0)}); told != ok || ok && !(math.Abs(float64(got)-0.004*8/math.Sqrt(20)) <= 1e-9) {
			t.Errorf("%d readings: %g, %v; expected %g", n, float64(got), told, 0.004*8/math.Sqrt(20))
		}
	}
	const n, e = 20, 0.001
	median, sum := 8*e/math.Sqrt(20), 0.0
	for i := range n - 3 {
		off := median
		for at, weight := range []float64{1, -3, 3, -1} { // of reading 8, which is up by turns as well
			if i+at == 8 {
				off = math.Abs(float64(1-2*(i%2))*median + weight*30*e/math.Sqrt(20))
			}
		}
		sum += math.Pow(min(off, 4*median/0.6745), 2)
	}
	if got, ok := readingErrorOf([]Curve{turns(n, e, 30*e)}); !ok || !(math.Abs(float64(got)-math.Sqrt(sum/(n-3))) <= 1e-9) {
		t.Errorf("%.6f, %v; expected %.6f", float64(got), ok, math.Sqrt(sum/(n-3)))
	}
	if got := turns(20, 0.01, 0).readingError(); !(math.Abs(float64(got)-0.01*8/math.Sqrt(20)/0.6745) <= 1e-9) {
		t.Errorf("%g; expected %g", float64(got), 0.01*8/math.Sqrt(20)/0.6745)
	}
}

// A line drawn in four parts; the triangle of ISO 6; three times with induction are enough; an index by the box, ten times as
// fast for one log H; densities as they are written; sheets in the order of their times.
func TestSmallThingsByHand(t *testing.T) {
	p := NewInterpolant([]float64{-2, -1, 0}, []float64{0.1, 0.6, 1.1})
	for i, r := range p.Drawn(4) {
		if !(math.Abs(float64(r.LogH)-(-2+0.5*float64(i))) <= 1e-12) || !(math.Abs(float64(r.Density)-(0.1+0.25*float64(i))) <= 1e-12) {
			t.Errorf("point %d: %+v", i, r)
		}
	}
	if got := len(p.Drawn(4)); got != 5 {
		t.Errorf("%d points", got)
	}
	if from, to := p.Range(); from != -2 || to != 0 {
		t.Errorf("%v to %v", from, to)
	}
	for i, want := range []Reading{{-2, 0.2}, {-0.7, 0.2}, {-0.7, 1}} {
		if got := ISOTriangle(Reading{-2, 0.2})[i]; !(math.Abs(float64(got.LogH-want.LogH)) <= 1e-12) || !(math.Abs(float64(got.Density-want.Density)) <= 1e-12) {
			t.Errorf("corner %d: %+v; expected %+v", i, got, want)
		}
	}
	truth, sheets := Growth{Limit: 1.1, K: 0.12, Induction: 1.5}, []Sheet{}
	for _, m := range []float64{9, 4, 20} {
		sheets = append(sheets, Sheet{fromMinutes(m), truth.At(fromMinutes(m))})
	}
	if g, err := FitGrowth(sheets, true); err != nil || !(math.Abs(float64(g.Induction)-1.5) <= 1e-4) {
		t.Errorf("%+v, %v; expected %+v", g, err, truth)
	}
	if list := (Results{sheets: sheets}).Sheets(); list[0].Time != 4*time.Minute || list[2].Time != 20*time.Minute {
		t.Errorf("%v", list)
	}
	at := LogH(-2)
	r := Result{SpeedPoint: &at}
	if r.speeds(Relative, false, &SpeedAnchor{200, -1}); r.ExposureIndex == nil || *r.ExposureIndex != 2000 {
		t.Errorf("%v; expected 2000", r.ExposureIndex)
	}
	for d, want := range map[Density]string{1.5: "1.50", 1.234: "1.234", 0.56: "0.56", 2: "2.00"} {
		if got := formatDensity(&d); got != want {
			t.Errorf("%v: %q", d, got)
		}
	}
	one := Readings{Tablet: []float64{0.05, 0.2}, Sheets: []SheetReadings{{Sheet: 1, Steps: make([]*Density, 2)}}}
	d := Density(0.5)
	for n := range 3 {
		for i := range one.Sheets[0].Steps {
			if one.Sheets[0].Steps[i] = nil; i < n {
				one.Sheets[0].Steps[i] = &d
			}
		}
		if _, ok := one.Curve(0); ok != (n == 2) || one.Sheets[0].Count() != n || one.sheetList() != "1" {
			t.Errorf("%d readings: a curve %v, counted %d, sheets %q", n, ok, one.Sheets[0].Count(), one.sheetList())
		}
	}
	c, _ := one.Curve(0)
	if c.Readings[0].LogH != -0.2 || c.Steps[0] != 2 {
		t.Errorf("%+v; expected the tablet's densest step first", c)
	}
	fs := &faultList{}
	var spots []tabletReading
	for i, d := range []Density{1.2, 0.8, 0.4} {
		spots = append(spots, tabletReading{Reading{LogH(i), d}, i + 1, position{}})
	}
	for n, want := range map[int]string{3: "other end", 2: "falls below"} {
		fs.list = nil
		if curveOf(fs, 0, nil, spots[:n]); len(fs.list) != 1 || !strings.Contains(fs.list[0].What, want) {
			t.Errorf("%d readings that fall: %+v; expected %q", n, fs.list, want)
		}
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

// A forecast of two sheets that only scatter, by 5 %, as TestForecastScattersAsTheSheets has it of sixteen; tests at one time alone all
// miss. Times from 5 min on are not advised against.
func TestForecastOfTwoSheets(t *testing.T) {
	f, err := ForecastTest([]time.Duration{5 * time.Minute, 12*time.Minute + 48*time.Second}, 8*time.Minute, 0.58, Errors{Reading: 0.001, Scatter: 0.02})
	if err != nil || f.Low == nil || f.High == nil {
		t.Fatalf("%+v, %v", f, err)
	}
	if want := 2 * 1.645 * 0.02 / (math.Sqrt2 * math.Ln2) * 480; !(math.Abs((*f.High-*f.Low)/want-1) <= 0.15) || !(math.Abs((*f.High+*f.Low)/960-1) <= 0.01) {
		t.Errorf("%.1f to %.1f s; expected about %.1f wide round 480", *f.Low, *f.High, want)
	}
	if f.Assumed.Limit != 1.16 || !(math.Abs(float64(f.Assumed.K)-math.Ln2/8) <= 1e-12) || f.Time != 480 || f.Missed > 0.02 || len(f.Notes) > 0 {
		t.Errorf("%+v", f)
	}
}

func TestForecastOfTestsThatMiss(t *testing.T) {
	f, err := ForecastTest([]time.Duration{4*time.Minute + 59*time.Second, 4*time.Minute + 59*time.Second}, 8*time.Minute, 0.58, Errors{Reading: 0.001})
	if err != nil || !(math.Abs(f.Missed-1) <= 1e-9) || f.Low != nil || len(f.Notes) != 1 {
		t.Errorf("%+v, %v", f, err)
	}
}
