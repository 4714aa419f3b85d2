package curve

// Every stated bound from both of its sides: what lies on it or just within is taken, what lies just beyond is not; and
// the figures of our own rules, by hand.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

func fault(_ any, err error) error { return err }

// missing is an error where something was not found or said.
func missing(ok bool) error {
	if ok {
		return nil
	}
	return errors.New("no")
}

func TestBoundsFromBothSides(t *testing.T) {
	const day = 24 * time.Hour
	rising := func(n int, step float64) Curve {
		c := Curve{}
		for i := range n {
			c.Readings = append(c.Readings, Reading{LogH(-10 + step*float64(i)), 0.1})
		}
		return c
	}
	density := func(d float64) error { return Curve{Readings: []Reading{{0, 0.1}, {1, Density(d)}}}.check() }
	base := func(d Density) error { return Curve{Base: &d, Readings: []Reading{{0, 0.1}, {1, 0.2}}}.check() }
	logH := func(first, last LogH) error { return Curve{Readings: []Reading{{first, 0.1}, {last, 0.2}}}.check() }
	sheets := func(at time.Duration) error {
		return fault(FitGrowth([]Sheet{{12 * time.Hour, 0.5}, {at, 0.7}}, false))
	}
	grown := func(minutes float64) error {
		g := Growth{Limit: 1, K: 0.001}
		return fault(g.Time(-math.Expm1(-0.001 * minutes)))
	}
	paper := func(p, subject, flare LogH) error { return fault(PrintConditions{p, subject, flare}.Gradient()) }
	exposed := func(text string) error { return fault(ParseExposed(text)) }
	stops := func(text string) error { return fault(ParseDensity(text, true)) }
	typed := func(text string) error { return fault(ParseDensity(text, false)) }
	times := func(text string) error { return fault(ParseTimes(text)) }
	options := func(o Options) error { return o.check() }
	tablet := func(n int, step float64) error { return fault(NominalTablet(n, step)) }
	requested := func(r Request) error { return r.complete(Family{}) }
	scatter := func(v float64) error { return Errors{Sessions: &v}.check() }
	count := func(text string) error { _, ok := parseCount(text); return missing(ok) }
	falls := func(by float64) error {
		fs := &faultList{}
		var spots []tabletReading
		for i, d := range []float64{0.1, 0.5, 0.9, 0.9 - by, 1.3} {
			spots = append(spots, tabletReading{Reading{LogH(0.7 * float64(i)), Density(d)}, i + 1, position{}})
		}
		curveOf(fs, time.Minute, nil, spots)
		return fs.err()
	}
	test := func(guess time.Duration, n int) error { return fault(TestTimes(guess, n)) }
	speed := func(s float64) error { return fault(NominalSpeed(s)) }
	high, low := LogH(10), LogH(10.1)
	for name, c := range map[string]struct{ within, beyond error }{
		"readings":              {rising(1000, 0.01).check(), rising(1001, 0.01).check()},
		"few readings":          {rising(2, 1).check(), rising(1, 1).check()},
		"steps":                 {rising(3, 1.001e-6).check(), rising(3, 0.99e-6).check()},
		"density":               {density(6), density(6.01)},
		"density below zero":    {density(-0.2), density(-0.21)},
		"base":                  {base(6), base(6.01)},
		"log H":                 {logH(0, 10), logH(0, 10.1)},
		"log H below zero":      {logH(-10, 0), logH(-10.1, 0)},
		"time of a sheet":       {sheets(day), sheets(day + 1)},
		"time for a gradient":   {grown(1439.9), grown(1440.1)},
		"paper":                 {paper(5, 2, 0.4), paper(5.1, 2, 0.4)},
		"subject":               {paper(1, 10, 0.4), paper(1, 10.1, 0.4)},
		"flare":                 {paper(1, 2, 0), paper(1, 2, -0.01)},
		"left of the subject":   {paper(1, 2, 1.99), paper(1, 2, 2)},
		"index":                 {exposed("EI 100000"), exposed("EI 100001")},
		"least index":           {exposed("0.1"), exposed("0.09")},
		"stops over it":         {exposed("EI 50 +20"), exposed("EI 50 +20.1")},
		"stops":                 {stops("20"), stops("20.1")},
		"no stops":              {stops("0"), stops("-0.1")},
		"typed":                 {typed("6.00"), typed("6.01")},
		"developing time":       {times("24h"), times("24h1s")},
		"least developing time": {times("1s"), times("0.9s")},
		"developing times":      {times(strings.Repeat("5m ", 200)), times(strings.Repeat("5m ", 201))},
		"step":                  {options(Options{Step: 1}), options(Options{Step: 1.01})},
		"least step":            {options(Options{Step: 0.01}), options(Options{Step: 0.009})},
		"behind density 0":      {options(Options{LogH0: &high}), options(Options{LogH0: &low})},
		"stated time":           {options(Options{Time: day}), options(Options{Time: day + 1})},
		"tablet's steps":        {tablet(100, 0.05), tablet(101, 0.05)},
		"tablet's least":        {tablet(5, 0.15), tablet(4, 0.15)},
		"tablet's step":         {tablet(5, 1), tablet(5, 1.01)},
		"tablet's least step":   {tablet(5, 0.01), tablet(5, 0.009)},
		"tablet's end":          {tablet(12, 0.54), tablet(12, 0.55)}, // 0.05 + 11 x 0.54 = 5.99
		"smoothing":             {requested(Request{Smooth: 0.2}), requested(Request{Smooth: 0.21})},
		"rounds":                {requested(Request{Rounds: 10000}), requested(Request{Rounds: 10001})},
		"reading error":         {Errors{Reading: 0.2}.check(), Errors{Reading: 0.21}.check()},
		"scatter":               {Errors{Scatter: 0.5}.check(), Errors{Scatter: 0.51}.check()},
		"scatter of sessions":   {scatter(0.5), scatter(0.51)},
		"no scatter":            {scatter(0), scatter(-0.01)},
		"digits":                {count("999999"), count("1000000")},
		"a fall":                {falls(0.15), falls(0.151)},
		"sheets of a test":      {test(2*time.Hour, 200), test(2*time.Hour, 201)},
		"two sheets":            {test(8*time.Minute, 2), test(8*time.Minute, 1)},
		"short times":           {test(6400*time.Millisecond, 2), test(5900*time.Millisecond, 2)},                        // 5.9 s / sqrt(1.4) = 4.99 s
		"long times":            {test(time.Duration(20.2*float64(time.Hour)), 2), test(20*time.Hour+20*time.Minute, 2)}, // x sqrt(1.4) = 23.9 h
		"speed":                 {speed(1.12e6), speed(1.13e6)},
		"least speed":           {speed(0.892), speed(0.89)}, // 10^(-0.05) = 0.8913
	} {
		if c.within != nil {
			t.Errorf("%s: within the bound: %v", name, c.within)
		}
		if c.beyond == nil {
			t.Errorf("%s: beyond the bound: taken", name)
		}
	}
	for value, want := range map[float64]int{0.0001: 1, 0.2: 1, 0.201: 0, 0: 0, -0.1: 0} {
		if got := parseErrors(fmt.Sprint(value)); (got[0] > 0) != (want > 0) {
			t.Errorf("error %g: %v", value, got)
		}
	}
}

// A forecast is made for gradients over 0.1 and under 3.
func TestBoundsOfAForecast(t *testing.T) {
	for target, ok := range map[float64]bool{0.1: false, 0.11: true, 2.9: true, 3: false} {
		_, err := ForecastTest([]time.Duration{6 * time.Minute, 10 * time.Minute}, 8*time.Minute, target, Errors{Reading: 0.01})
		if (err == nil) != ok {
			t.Errorf("%g: %v", target, err)
		}
	}
}

// ISO 6:1993, the scale of speeds: ten steps a decade, each from half a step below to half a step above (those below
// 50 and over 800 from memory).
func TestEverySpeedStep(t *testing.T) {
	steps := strings.Fields("1 1.2 1.6 2 2.5 3 4 5 6 8 10 12 16 20 25 32 40 50 64 80 100 125 160 200 250 320 400 500 640 800 " +
		"1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 12500 16000 20000 25000 32000 40000 50000 64000 80000 100000")
	for n, want := range steps {
		for _, off := range []float64{-0.499, 0, 0.499} {
			s := math.Pow(10, (float64(n)+off)/10)
			if got, err := NominalSpeed(s); err != nil || fmt.Sprintf("%.10g", got) != want {
				t.Errorf("%g: %g, %v; expected %s", s, got, err, want)
			}
		}
	}
}

// Orthogonal polynomials of seven points (printed tables): quadratic 5 0 -3 -4 -3 0 5, of squares 84; cubic
// -1 1 1 0 -1 -1 1, of squares 6. A line with so much of the quadratic counts as straight within one standard error of it,
// e/sqrt(84); with so much of the cubic as long as 6 a^2 is at most e^2 (5 + 2 sqrt(10)).
func TestHowFarAStretchIsStraight(t *testing.T) {
	quadratic, cubic := []float64{5, 0, -3, -4, -3, 0, 5}, []float64{-1, 1, 1, 0, -1, -1, 1}
	const e = 0.02
	for _, c := range []struct {
		shape []float64
		most  float64
	}{{quadratic, e / math.Sqrt(84)}, {cubic, e * math.Sqrt((5+2*math.Sqrt(10))/6)}} {
		for part, want := range map[float64]bool{0.99: true, -0.99: true, 1.01: false, -1.01: false} {
			var x, y []float64
			for i, s := range c.shape {
				x, y = append(x, 0.15*float64(i)), append(y, 0.3+0.6*0.15*float64(i)+part*c.most*s)
			}
			if l, got := straightWithin(x, y, e); got != want || !(math.Abs(l.Slope-0.6) <= 0.2) {
				t.Errorf("%v of %v: %v; expected %v", part, c.shape, got, want)
			}
		}
	}
}

// Gamma wants three readings over 0.60 log H, two stops (0.602) counting as that; of several stretches the steepest.
func TestWhereGammaIsRead(t *testing.T) {
	at := func(step float64, n int, y func(x float64) float64) (straightPart, bool) {
		var xs, ys []float64
		for i := range n {
			xs, ys = append(xs, step*float64(i)), append(ys, y(step*float64(i)))
		}
		return steepest(xs, ys)
	}
	line := func(x float64) float64 { return 0.1 + 0.7*x }
	for _, c := range []struct {
		step float64
		n    int
		ok   bool
	}{{0.3, 3, true}, {0.301, 3, true}, {0.304, 3, true}, {0.306, 3, false}, {0.296, 3, true}, {0.294, 3, false}, {0.301, 2, false}, {0.602, 3, false}} {
		if p, ok := at(c.step, c.n, line); ok != c.ok || ok && (!(math.Abs(p.Slope-0.7) <= 1e-12) || !(math.Abs(p.Intercept-0.1) <= 1e-12)) {
			t.Errorf("%d readings %g apart: %+v, %v; expected %v", c.n, c.step, p, ok, c.ok)
		}
	}
	p, ok := at(0.15, 21, func(x float64) float64 { return max(0, x-0.6) + max(0, x-1.2) - 1.5*max(0, x-1.95) })
	if !ok || !(math.Abs(p.Slope-2) <= 1e-12) || p.first != 8 || p.end != 13 {
		t.Errorf("%+v, %v; expected a slope of 2 from reading 8 to 12", p, ok)
	}
}

// What is believed before a test, by hand: times of 4 and 16 min have their middle at 8 min, where k t is 0.8; half of it
// for no induction, the other half in seven equal parts up to 3 min, and not over 0.95 of the shortest time.
func TestWhatIsBelievedBefore(t *testing.T) {
	p := priorFor([]measuredSheet{{minutes: 4}, {minutes: 16}}, false)
	if !(math.Abs(p.k-0.1) <= 1e-12) || p.kSpread != 0.7 || len(p.inductions) != 8 || p.inductions[0] != (weighted{0, 0.5}) {
		t.Errorf("%+v", p)
	}
	for i, w := range p.inductions[1:] {
		if !(math.Abs(w.value-3*(float64(i)+0.5)/7) <= 1e-12) || !(math.Abs(w.weight-0.5/7) <= 1e-12) {
			t.Errorf("%d: %+v", i, w)
		}
	}
	for _, sure := range []bool{false, true} {
		for first, longest := range map[float64]float64{2: 1.9, 10: map[bool]float64{false: 3, true: 9.5}[sure]} {
			list := priorFor([]measuredSheet{{minutes: 20}, {minutes: first}}, sure).inductions
			if last := list[len(list)-1].value; !(math.Abs(last-longest*6.5/7) <= 1e-12) || (len(list) == 7) != sure {
				t.Errorf("shortest %g min, sure %v: up to %g; expected %g", first, sure, last, longest*6.5/7)
			}
		}
	}
	list := spread(0.05)
	if len(list) != 9 {
		t.Fatalf("%v", list)
	}
	for i, w := range list {
		z := float64(i-4) / 2
		if !(math.Abs(w.value-0.05*math.Exp(z/2)) <= 1e-12) || !(math.Abs(w.weight-math.Exp(-z*z/2)) <= 1e-12) {
			t.Errorf("%d: %+v", i, w)
		}
	}
	if e := (Errors{}).sheets(); e[4].value != 0.04 {
		t.Errorf("sheets: %v", e)
	}
	if e := (Errors{}).sessionsOf(1); len(e) != 1 || e[0].value != 0.05 {
		t.Errorf("one session: %v", e)
	}
	if e := (Errors{}).sessionsOf(2); len(e) != 9 || e[4].value != 0.05 {
		t.Errorf("two sessions: %v", e)
	}
}

// A time of induction is told from one chance in five on, and advised from four in five.
func TestWhenInductionIsTold(t *testing.T) {
	for chance, want := range map[float64]string{0.19: "", 0.21: "does not rule out", 0.79: "does not rule out", 0.81: "--induction fits it"} {
		out := Results{belief: belief{{t0: 0, weight: 1 - chance}, {t0: 1.5, weight: chance}}}
		out.noteInduction(Request{})
		if said := strings.Join(out.Notes, ""); (said == "") != (want == "") || !strings.Contains(said, want) {
			t.Errorf("chance %g: %q; expected %q", chance, said, want)
		}
		out.Notes = nil
		if out.noteInduction(Request{Induction: true}); len(out.Notes) > 0 {
			t.Errorf("fitted, and told: %q", out.Notes)
		}
	}
}

// A tablet metered so: the film's speed point is 1.0 log H below the meter's; a film two stops slower must still have 1.30 over its
// own, from 0.05 on: 1.30 + 0.602 + 0.05 = 1.952, 3.16 stops; one two stops faster its speed point up to
// 3.05: 2.448, 4.81 stops.
func TestWhatATabletWillNotShow(t *testing.T) {
	for stops, want := range map[string]string{"3.1": "no average gradient", "3.2": "", "4.8": "", "4.85": "no speed point"} {
		e, err := PlaceTablet("EI 50 +" + stops)
		said := strings.Join(e.Notes, "")
		if err != nil || (said == "") != (want == "") || !strings.Contains(said, want) {
			t.Errorf("%s stops: %q, %v; expected %q", stops, said, err, want)
		}
		n, _ := parseDecimal(stops)
		if !(math.Abs(float64(e.MeteredAt)-0.30103*n) <= 1e-5) || !(math.Abs(float64(e.SpeedPointAt-e.MeteredAt)-1) <= 1e-12) || e.Index != 50 || e.Stops != n {
			t.Errorf("%+v", e)
		}
	}
}

// Gradients as they are shown and typed count as given: half of the last digit, 0.005, either way.
func TestAGradientAsPrintedIsGiven(t *testing.T) {
	out := Results{sheets: []Sheet{{5 * time.Minute, 0.5}, {10 * time.Minute, 0.7}}}
	for g, want := range map[float64]bool{0.4951: true, 0.4949: false, 0.7049: true, 0.7051: false, 0.6: true} {
		if out.gave(g) != want {
			t.Errorf("%g: %v", g, !want)
		}
	}
	// the fitted curve has another gradient at the shortest time: that time stands; over its limit, the longest
	out.Growth = &Growth{Limit: 0.69, K: 0.3}
	for g, want := range map[float64]time.Duration{0.5: 5 * time.Minute, 0.7: 10 * time.Minute} {
		if got, err := out.timeTested(g); err != nil || got != want {
			t.Errorf("%g: %v, %v; expected %v", g, got, err, want)
		}
	}
}

// Readings from 0.60 log H apart are told, and base plus fog from 0.10 over the least reading.
func TestGapsThatAreTold(t *testing.T) {
	for gap, want := range map[float64]bool{0.6: false, 0.61: true} {
		base := Density(0.1)
		c := sampled(-3, gap, 0.1, 0.15, 0.5, 0.9, 1.3)
		c.Base = &base
		if _, notes := evaluated(t, c, Request{}); (len(notes) > 0) != want {
			t.Errorf("%g apart: %q", gap, notes)
		}
	}
	for over, want := range map[float64]bool{0.099: false, 0.101: true} {
		base := Density(0.1 + over)
		c := sampled(-3, 0.5, 0.1, 0.1, 0.5, 0.9, 1.3)
		c.Base = &base
		if _, notes := evaluated(t, c, Request{}); slices.ContainsFunc(notes, func(n string) bool { return strings.Contains(n, "is given as") }) != want {
			t.Errorf("%g over: %q", over, notes)
		}
	}
}

// The error that slips are measured in: from 0.01 to 0.05, and 0.02 where there are not three differences. Between neighbours over
// 0.5 log H apart only what leaves their range counts.
func TestWhatSlipsAreMeasuredIn(t *testing.T) {
	wave := func(n int, e float64) (c Curve) {
		for i := range n {
			d := 0.1 + 0.09*float64(i) + e*[]float64{1, -1, -1, 1, 1, -1, 1, 1, -1, -1}[i%10]
			c.Readings = append(c.Readings, Reading{LogH(0.15 * float64(i)), Density(d)})
		}
		return c
	}
	if wave(5, 0.03).readingError() != 0.02 || wave(20, 0).readingError() != 0.01 || wave(20, 0.1).readingError() != 0.05 {
		t.Errorf("%g, %g, %g; expected 0.02, 0.01, 0.05", wave(5, 0.03).readingError(), wave(20, 0).readingError(), wave(20, 0.1).readingError())
	}
	apart := func(step float64, off Density) []int {
		c := Curve{}
		for i := range 9 {
			c.Readings = append(c.Readings, Reading{LogH(step * float64(i)), Density(0.1 + 0.2*float64(i))})
		}
		c.Readings[4].Density += off
		return c.Outliers(0.01)
	}
	for _, c := range []struct {
		step float64
		off  Density
		slip bool
	}{{0.26, 0.15, false}, {0.26, 0.239, false}, {0.26, 0.241, true}, {0.26, -0.239, false}, {0.26, -0.241, true}, {0.24, 0.15, true}} {
		if got := apart(c.step, c.off); (len(got) > 0) != c.slip {
			t.Errorf("%g apart, off by %g: %v; expected a slip: %v", c.step, float64(c.off), got, c.slip)
		}
	}
	// a quarter of eight readings are two; of seven one
	for n, want := range map[int]int{8: 2, 7: 1, 6: 1, 5: 0} {
		c := wave(n, 0)
		for _, i := range []int{1, 3} {
			if i < n-1 {
				c.Readings[i].Density += 0.6
			}
		}
		if got := c.Outliers(0.01); len(got) != want {
			t.Errorf("%d readings: slips %v; expected %d", n, got, want)
		}
	}
}

// A strip runs the other way where its densities fall by over 0.3 in all, of four readings at least.
func TestWhichWayAStripRuns(t *testing.T) {
	strip := func(n int, fall float64) bool {
		r := Readings{}
		for i := range n {
			r.Tablet = append(r.Tablet, 0.05+0.15*float64(i))
		}
		r.Add(time.Minute, 0)
		for i := range n { // density rises with the tablet's: it falls with exposure
			d := Density(0.5 + fall*float64(i)/float64(n-1))
			r.Sheets[0].Steps[i] = &d
		}
		return r.Reversed(0)
	}
	for _, c := range []struct {
		n    int
		fall float64
		want bool
	}{{4, 0.31, true}, {4, 0.29, false}, {3, 0.5, false}, {21, 0.31, true}, {21, -1, false}} {
		if got := strip(c.n, c.fall); got != c.want {
			t.Errorf("%d readings fall by %g: %v", c.n, c.fall, got)
		}
	}
}

// Blue densities that rise 1.08 times as fast as visual ones are told as a stain, of three samples on.
func TestWhenAStainIsTold(t *testing.T) {
	table := func(n int, ratio float64) cgatsTable {
		s := cgatsTable{fields: []csvCell{{text: "SAMPLE_ID"}, {text: "D_VIS"}, {text: "D_BLUE"}}}
		for i := range n {
			v := 0.1 + 0.3*float64(i)
			s.sets = append(s.sets, []csvCell{{}, {text: fmt.Sprint(v)}, {text: fmt.Sprint(0.05 + ratio*v)}})
		}
		return s
	}
	for _, c := range []struct {
		n     int
		ratio float64
		want  bool
	}{{3, 1.081, true}, {3, 1.079, false}, {2, 1.5, false}, {10, 1.3, true}} {
		if got := table(c.n, c.ratio).stain(); (len(got) > 0) != c.want {
			t.Errorf("%d samples, %g: %q", c.n, c.ratio, got)
		}
	}
}

// Fifty faults are told, and then how many more; of what a person wrote forty characters are quoted.
func TestHowMuchIsTold(t *testing.T) {
	for n, want := range map[int]int{50: 50, 51: 51, 70: 51} {
		fs := &faultList{}
		for i := range n {
			fs.add(position{i + 1, 1}, "wrong", "right")
		}
		var list Faults
		if !errors.As(fs.err(), &list) || len(list) != want || n > 50 && list[50].What != fmt.Sprintf("%d more faults", n-50) {
			t.Errorf("%d faults: %d told", n, len(list))
		}
	}
	if quoted(strings.Repeat("a", 40)) != `"`+strings.Repeat("a", 40)+`"` || quoted(strings.Repeat("é", 41)) != `"`+strings.Repeat("é", 40)+`…"` {
		t.Error("not forty characters")
	}
}
