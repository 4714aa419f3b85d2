package growthbelief

// Beliefs against an independent sampler, a case in closed form, and their own laws.

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/goldentest"
)

const aim = 0.62

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

// golden is one line of testdata/posterior.jsonl.
type golden struct {
	Tests [][]struct {
		Minutes, Celsius, Gradient, Error float64
	}
	Sessions []struct {
		Minutes, Celsius, Wanted float64
		Look                     Look
	}
	Borrowed []struct{ Minutes, Celsius, Wanted, Log float64 }
	Believed map[string][3]float64
}

func (g golden) evidence() (e Evidence) {
	for _, one := range g.Tests {
		t := Test{Weight: 1}
		for _, r := range one {
			t.Readings = append(t.Readings, Reading{minutes(r.Minutes), chem.Celsius(r.Celsius), r.Gradient, r.Error})
		}
		e.Tests = append(e.Tests, t)
	}
	for _, s := range g.Sessions {
		e.Sessions = append(e.Sessions, Session{minutes(s.Minutes), chem.Celsius(s.Celsius), s.Wanted, s.Look})
	}
	for _, b := range g.Borrowed {
		e.Borrowed = append(e.Borrowed, Borrowed{minutes(b.Minutes), chem.Celsius(b.Celsius), b.Wanted, b.Log})
	}
	return e
}

func goldens(t testing.TB) []golden {
	t.Helper()
	return goldentest.Read[golden](t, "testdata/posterior.jsonl", 10, 1)
}

// Numpy and scipy weigh 1.5 million films drawn from the prior, the model written down anew and sessions integrated
// numerically (testdata/posterior.py). Both draw; what is compared is held to a fraction of the interval's own width.
func TestBeliefAgainstASampler(t *testing.T) {
	for i, g := range goldens(t) {
		b := Believe(Weak, g.evidence())
		if b.Effective < 200 {
			t.Errorf("set %d: %.0f films count", i, b.Effective)
		}
		for name, got := range map[string]Interval{"limit": b.Limit(), "rate": b.Rate(), "coefficient": b.Coefficient(), "sessions": b.Sessions(),
			"time_20": b.Time(aim, 20), "time_24": b.Time(aim, 24), "film_20": b.TimeOfFilm(aim, 20)} {
			want := g.Believed[name]
			width := math.Log(want[2] / want[0])
			for k, have := range []float64{got.Low, got.Middle, got.High} {
				tolerance := []float64{0.08, 0.05, 0.08}[k] * width
				if want[2] > 1e3 { // the film may never reach the gradient: only the ends that are there
					if tolerance = 0.1; k == 2 {
						continue
					}
				}
				if !(math.Abs(math.Log(have/want[k])) <= tolerance) {
					t.Errorf("set %d, %s, quantile %d: %.4f; the sampler has %.4f of %.4f to %.4f", i, name, k, have, want[k], want[0], want[2])
				}
			}
		}
	}
}

// With growth, coefficient and scatter known but for the limit, ln limit is normal before and after: precisions add
// (any text on conjugate priors). Two sheets of one time have the same steepness e, so their mean has half of the
// sheets' variance and all of the session's, e^2 0.05^2. e is a numerical derivative here.
func TestBeliefInClosedForm(t *testing.T) {
	const still = 1e-6
	known := Prior{Limit: Spread{1.2, 0.34}, Rate: Spread{0.12, still}, Induction: still, Coefficient: Spread{2.2, still}, Sessions: Spread{0.05, still}, Sheets: Spread{0.04, still}}
	growth := func(m float64) float64 { return -math.Expm1(-0.12 * m) }
	e := Evidence{Tests: []Test{{Weight: 1, Readings: []Reading{{minutes(7), 20, 0.7, 0}, {minutes(7), 20, 0.74, 0}}}}}
	y1, y2 := math.Log(0.7/growth(7)), math.Log(0.74/growth(7))
	steep := math.Log(growth(7.001)/growth(6.999)) / math.Log(7.001/6.999)
	precision, variance := 1/(0.34*0.34), 0.04*0.04/2+0.05*0.05*steep*steep
	mean := (math.Log(1.2)*precision + (y1+y2)/2/variance) / (precision + 1/variance)
	spread := math.Sqrt(1 / (precision + 1/variance))
	got := Believe(known, e).Limit()
	for _, x := range []struct{ have, z float64 }{{got.Low, -1.6449}, {got.Middle, 0}, {got.High, 1.6449}} {
		if want := mean + x.z*spread; math.Abs(math.Log(x.have)-want) > 0.05*spread {
			t.Errorf("ln limit %.4f; expected %.4f", math.Log(x.have), want)
		}
	}
	e.Tests[0].Weight = 0.25 // as if every variance were four times as much
	variance *= 4
	mean = (math.Log(1.2)*precision + (y1+y2)/2/variance) / (precision + 1/variance)
	spread = math.Sqrt(1 / (precision + 1/variance))
	if got := Believe(known, e).Limit(); math.Abs(math.Log(got.Middle)-mean) > 0.05*spread || math.Abs(got.Narrowness()-2*1.6449*spread) > 0.1*spread {
		t.Errorf("with a quarter of the weight: %+v; expected %.4f and a spread of %.4f", got, math.Exp(mean), spread)
	}
}

// Before any evidence the belief is the prior as it is stated.
func TestBeliefWithoutEvidence(t *testing.T) {
	b := Believe(Weak, Evidence{})
	for name, x := range map[string]struct {
		got  Interval
		want Spread
	}{"limit": {b.Limit(), Weak.Limit}, "rate": {b.Rate(), Weak.Rate}, "coefficient": {b.Coefficient(), Weak.Coefficient}, "sessions": {b.Sessions(), Weak.Sessions}} {
		for _, q := range []struct{ have, z float64 }{{x.got.Low, -1.6449}, {x.got.Middle, 0}, {x.got.High, 1.6449}} {
			if want := x.want.Middle * math.Exp(q.z*x.want.Log); math.Abs(q.have/want-1) > 0.02 {
				t.Errorf("%s: %.4f; expected %.4f", name, q.have, want)
			}
		}
	}
	// Nine in ten of an exponential distribution: -ln 0.95, ln 2 and -ln 0.05 times its mean.
	if v := b.Induction(); math.Abs(v.Middle/(0.6*math.Ln2)-1) > 0.02 || math.Abs(v.High/(0.6*2.9957)-1) > 0.02 {
		t.Errorf("induction %+v", v)
	}
}

// The same evidence gives the same answer; more of it gives a narrower one; what comes first does not matter.
func TestBeliefIsDeterministicAndNarrows(t *testing.T) {
	e := goldens(t)[4].evidence()
	a, again := Believe(Weak, e).Time(aim, 20), Believe(Weak, e).Time(aim, 20)
	if a != again {
		t.Errorf("%+v, then %+v", a, again)
	}
	slices.Reverse(e.Tests)
	if turned := Believe(Weak, e).Time(aim, 20); math.Abs(math.Log(turned.Middle/a.Middle)) > 1e-6 {
		t.Errorf("in another order: %+v; expected %+v", turned, a)
	}
	less := Evidence{Tests: e.Tests[:1]}
	if one := Believe(Weak, less).TimeOfFilm(aim, 20); one.Narrowness() <= Believe(Weak, e).TimeOfFilm(aim, 20).Narrowness() {
		t.Errorf("one test of four is as narrow: %+v", one)
	}
}

// Ten tests of five sheets: under 0.5 s.
func BenchmarkBelieveTenTests(b *testing.B) {
	one := goldens(b)[4].evidence().Tests
	var e Evidence
	for i := range 10 {
		t := one[i%len(one)]
		t.Readings = append(slices.Clone(t.Readings), t.Readings[:2]...)
		e.Tests = append(e.Tests, t)
	}
	for b.Loop() {
		belief := Believe(Weak, e)
		belief.Time(aim, 20)
		b.ReportMetric(belief.Effective, "films")
	}
}
