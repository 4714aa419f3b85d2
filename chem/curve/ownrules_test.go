package curve

// The figures of our own rules, from both of their sides, by hand.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

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
		out := Results{belief: belief{{t0: 0, weight: 1 - chance}, {t0: 0.5, weight: chance / 2}, {t0: 1.5, weight: chance / 2}}}
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
