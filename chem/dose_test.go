package chem

// The dose against scipy, against gonum, and against its own laws.

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/goldentest"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// goldenCase is one line of testdata/dose.jsonl; dose.py says how it was made.
type goldenCase struct {
	Reference Celsius  `json:"reference_c"`
	K         *float64 `json:"coefficient"`
	Table     []Pair   `json:"table"`
	Readings  []struct {
		At float64 `json:"at_s"`
		T  Celsius `json:"t_c"`
	} `json:"readings"`
	Drift *struct {
		Settle Celsius `json:"settle_c"`
		Tau    float64 `json:"tau_s"`
	} `json:"drift"`
	From float64 `json:"from_s"`
	To   float64 `json:"to_s"`
	Dose float64 `json:"dose_s"`
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }

func (g goldenCase) rate(t testing.TB) Rate {
	if g.K != nil {
		return Coefficient{Reference: g.Reference, K: *g.K}
	}
	p, err := NewPairs(g.Reference, g.Table)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func (g goldenCase) course() Course {
	var c Course
	for _, r := range g.Readings {
		c = c.Add(Point{At: seconds(r.At), T: r.T})
	}
	if g.Drift != nil {
		c.Drift = &Drift{Settle: g.Drift.Settle, Tau: seconds(g.Drift.Tau)}
	}
	return c
}

func golden(t testing.TB) []goldenCase {
	t.Helper()
	return goldentest.Read[goldenCase](t, "testdata/dose.jsonl", 1000, 1)
}

// near is a relative difference, with a nanosecond for the rounding to time.Duration.
func near(got, want time.Duration, relative float64) bool {
	return math.Abs(float64(got-want)) <= relative*math.Abs(float64(want))+1
}

// 1,000 random baths against scipy's adaptive quadrature (asked for 1e-12).
func TestDoseAgainstScipy(t *testing.T) {
	for i, g := range golden(t) {
		rate, c, from, to, want := g.rate(t), g.course(), seconds(g.From), seconds(g.To), seconds(g.Dose)
		got, err := Dose(rate, c, from, to)
		if err != nil || !near(got, want, 1e-9) {
			t.Errorf("case %d: dose %v, %v; scipy %v", i+1, got, err, want)
		}
		end, err := Until(rate, c, from, want)
		if err != nil || !near(end-from, to-from, 1e-9) {
			t.Errorf("case %d: until %v, %v; expected %v", i+1, end, err, to)
		}
	}
}

// veiled hides what kind a rate is, so that it is integrated by panels alone:
// the closed forms and the panels check each other.
type veiled struct{ rate Rate }

func (v veiled) At(t Celsius) (float64, error) { return v.rate.At(t) }

func TestClosedFormsAgainstPanels(t *testing.T) {
	for i, g := range golden(t) {
		if g.K == nil {
			continue // a table has corners, which panels do not know
		}
		rate, c, from, to := g.rate(t), g.course(), seconds(g.From), seconds(g.To)
		a, errA := Dose(rate, c, from, to)
		b, errB := Dose(veiled{rate}, c, from, to)
		if errA != nil || errB != nil || !near(a, b, 1e-12) {
			t.Errorf("case %d: %v %v by closed form, %v %v by panels", i+1, a, errA, b, errB)
		}
		// at a rate of 1/8 the rounding of a dose to a nanosecond is 4 of time
		if end, err := Until(veiled{rate}, c, from, a); err != nil || (end-to).Abs() > 5 {
			t.Errorf("case %d: until %v, %v; expected %v", i+1, end, err, to)
		}
	}
}

func TestGaussAgainstGonum(t *testing.T) {
	x, w := make([]float64, 10), make([]float64, 10)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	for i := range gaussX {
		for _, j := range []int{5 + i, 4 - i} {
			if math.Abs(math.Abs(x[j])-gaussX[i]) > 1e-15 || math.Abs(w[j]-gaussW[i]) > 1e-15 {
				t.Errorf("node %d: %v %v; gonum %v %v", i, gaussX[i], gaussW[i], x[j], w[j])
			}
		}
	}
}

// drawRate draws a coefficient or a table that covers 9 to 35 C.
func drawRate(t *rapid.T) Rate {
	reference := Celsius(rapid.Float64Range(15, 25).Draw(t, "reference"))
	if rapid.Bool().Draw(t, "coefficient") {
		return Coefficient{Reference: reference, K: rapid.Float64Range(1, 6).Draw(t, "K")}
	}
	at, time := 9.0, 3000.0
	table := []Pair{{Celsius(at), time}}
	for at < 35 {
		step := rapid.Float64Range(0.5, 8).Draw(t, "step")
		at, time = at+step, time*math.Exp(-step*rapid.Float64Range(0, 0.16).Draw(t, "fall"))
		table = append(table, Pair{Celsius(at), time})
	}
	p, err := NewPairs(reference, table)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// drawCourse draws up to six readings and perhaps a drift, from 9 to 35 C.
func drawCourse(t *rapid.T) Course {
	temperature := rapid.Float64Range(9, 35)
	var c Course
	for range rapid.IntRange(1, 6).Draw(t, "readings") {
		c = c.Add(Point{At: drawTime(t, "at"), T: Celsius(temperature.Draw(t, "t"))})
	}
	if rapid.Bool().Draw(t, "drifts") {
		c.Drift = &Drift{
			Settle: Celsius(temperature.Draw(t, "settle")),
			Tau:    time.Duration(rapid.Int64Range(-1, int64(5*time.Hour)).Draw(t, "tau")),
		}
	}
	return c
}

func drawTime(t *rapid.T, name string) time.Duration {
	return time.Duration(rapid.Int64Range(-int64(time.Hour), int64(5*time.Hour)).Draw(t, name))
}

func mustDose(t *rapid.T, rate Rate, c Course, from, to time.Duration) time.Duration {
	d, err := Dose(rate, c, from, to)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestDoseIsAdditiveAndMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate, c := drawRate(t), drawCourse(t)
		a, b, d := drawTime(t, "a"), drawTime(t, "b"), drawTime(t, "d")
		ab, bd, ad := mustDose(t, rate, c, a, b), mustDose(t, rate, c, b, d), mustDose(t, rate, c, a, d)
		if slack := 2 + 1e-12*float64(max(ab.Abs(), bd.Abs())); math.Abs(float64(ab+bd-ad)) > slack {
			t.Errorf("%v + %v is not %v", ab, bd, ad)
		}
		if (b > a && ab < 0) || (b < a && ab > 0) || (b == a && ab != 0) {
			t.Errorf("from %v to %v: dose %v", a, b, ab)
		}
		if b-a > time.Microsecond && ab <= 0 {
			t.Errorf("no dose from %v to %v", a, b)
		}
	})
}

func TestUntilInvertsDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate, c, from := drawRate(t), drawCourse(t), drawTime(t, "from")
		to := from + time.Duration(rapid.Int64Range(0, int64(10*time.Hour)).Draw(t, "length"))
		dose := mustDose(t, rate, c, from, to)
		end, err := Until(rate, c, from, dose)
		if err != nil {
			t.Fatal(err)
		}
		slowest, _ := rate.At(9) // a nanosecond of dose is so many of time
		if diff := math.Abs(float64(end - to)); diff > 2+1/slowest+1e-12*float64(to-from) {
			t.Errorf("until %v; expected %v", end, to)
		}
		later, err := Until(rate, c, from, dose+time.Second)
		if err != nil || later <= end {
			t.Errorf("a second more of dose ends at %v, %v; expected after %v", later, err, end)
		}
	})
}

// Doing without temperature, and a bath that stays at the reference, are exact.
func TestExactWhereTheRateIsOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reference := Celsius(rapid.Float64Range(0, 60).Draw(t, "reference"))
		a, b := drawTime(t, "a"), drawTime(t, "b")
		steady := Course{Readings: []Point{{At: drawTime(t, "reading"), T: reference}}}
		table, err := NewPairs(reference, []Pair{{reference - 0.7, 412}, {reference + 3.1, 277}})
		if err != nil {
			t.Fatal(err)
		}
		for _, given := range []struct {
			rate Rate
			c    Course
		}{{ConstantRate{}, Course{}}, {Coefficient{reference, 2.2}, steady}, {table, steady}} {
			if d := mustDose(t, given.rate, given.c, a, b); d != b-a {
				t.Errorf("%T: dose %v; expected exactly %v", given.rate, d, b-a)
			}
			if end, err := Until(given.rate, given.c, a, (b - a).Abs()); err != nil || end != a+(b-a).Abs() {
				t.Errorf("%T: until %v, %v; expected exactly %v", given.rate, end, err, a+(b-a).Abs())
			}
		}
	})
}

func TestDoseRefuses(t *testing.T) {
	table, err := NewPairs(20, []Pair{{18, 720}, {24, 450}})
	if err != nil {
		t.Fatal(err)
	}
	k, at := Coefficient{20, 2.2}, func(temp Celsius) Course { return Course{Readings: []Point{{0, temp}}} }
	for name, c := range map[string]struct {
		rate  Rate
		c     Course
		dose  time.Duration
		error error // nil: any
	}{
		"no reading":        {k, Course{}, time.Minute, nil},
		"reading not known": {k, at(Celsius(math.NaN())), time.Minute, nil},
		"too warm":          {table, at(25.1), time.Minute, ErrOutsideTable},
		"too cold":          {table, at(16.9), time.Minute, ErrOutsideTable},
		"over 1000 h":       {k, at(20), 1001 * time.Hour, ErrTooLong},
		"never in 1000 h":   {k, at(-60), 20 * time.Hour, ErrTooLong},
		"not in order":      {k, Course{Readings: []Point{{1, 20}, {0, 20}}}, time.Minute, nil},
		"no coefficient":    {Coefficient{20, 0}, at(20), time.Minute, nil},
		"empty table":       {Pairs{}, at(20), time.Minute, nil},
		"rate of zero":      {still(0), at(20), time.Minute, nil},
	} {
		if end, err := Until(c.rate, c.c, 0, c.dose); err == nil || (c.error != nil && !errors.Is(err, c.error)) {
			t.Errorf("%s: until %v, %v; expected error %v", name, end, err, c.error)
		}
	}
	if _, err := Until(k, at(20), 0, -1); err == nil {
		t.Error("a negative dose was accepted")
	}
	if _, err := Dose(k, at(20), math.MinInt64, math.MaxInt64); !errors.Is(err, ErrTooLong) {
		t.Errorf("the longest interval: %v", err)
	}
	if _, err := Dose(k, at(60), 0, 1000*time.Hour); !errors.Is(err, ErrTooLong) {
		t.Errorf("the greatest dose: %v", err)
	}
	if _, err := Until(ConstantRate{}, Course{}, math.MaxInt64, time.Hour); !errors.Is(err, ErrTooLong) {
		t.Errorf("past the last time: %v", err)
	}
}

// still is a rate that no law allows: zero, negative, infinite or not known.
type still float64

func (s still) At(Celsius) (float64, error) { return float64(s), nil }

func TestImpossibleRates(t *testing.T) {
	moving := Course{Readings: []Point{{0, 20}, {time.Minute, 22}}, Drift: &Drift{18, time.Hour}}
	for _, r := range []still{0, -1, still(math.NaN()), still(math.Inf(1))} {
		for _, from := range []time.Duration{-time.Minute, 0, time.Minute} { // constant, linear, drifting
			if d, err := Dose(r, moving, from, from+time.Second); err == nil || !strings.Contains(err.Error(), "above zero") {
				t.Errorf("rate %v from %v: %v, %v; expected an error with %q", r, from, d, err, "above zero")
			}
		}
		if end, err := Until(r, moving, 0, time.Second); err == nil || !strings.Contains(err.Error(), "above zero") {
			t.Errorf("rate %v: until %v, %v; expected an error with %q", r, end, err, "above zero")
		}
	}
}

// The steepest rates that are allowed, where long panels would be seen to err.
// Linear: the closed form. Drifting: with c = ln(K)/10 (Tr - Ts) and u time
// over tau, the integral of exp(c e^-u) is u + the sum over n of
// c^n (1 - e^(-n u))/(n n!), the series of the exponential integral
// (Abramowitz and Stegun, 5.1.11, from memory).
func TestSteepRates(t *testing.T) {
	k := Coefficient{Reference: 80, K: 100}
	rise := Course{Readings: []Point{{0, 20}, {time.Hour, 80}}}
	a, errA := Dose(k, rise, 0, time.Hour)
	b, errB := Dose(veiled{k}, rise, 0, time.Hour)
	if errA != nil || errB != nil || !near(a, b, 1e-12) {
		t.Errorf("rising: %v %v by closed form, %v %v by panels", a, errA, b, errB)
	}
	cool := Course{Readings: []Point{{0, 80}}, Drift: &Drift{Settle: 20, Tau: time.Hour}}
	for _, u := range []float64{0.01, 0.3, 1, 5, 60} {
		c, sum, power := math.Log(100)/10*60, u, 1.0
		for n := 1.0; n < 200; n++ {
			power *= c / n
			sum -= power / n * math.Expm1(-n*u)
		}
		want := seconds(3600 * sum * math.Pow(100, -6)) // the rate at 20 C is 100^-6
		got, err := Dose(k, cool, 0, seconds(3600*u))
		if err != nil || !near(got, want, 1e-12) {
			t.Errorf("cooling for %v time constants: %v, %v; the series gives %v", u, got, err, want)
		}
	}
}

// Readings at the ends of time neither overflow nor hang.
func TestReadingsFarAway(t *testing.T) {
	c := Course{Readings: []Point{{math.MinInt64, 20}, {math.MaxInt64, 20}}}
	if d, err := Dose(Coefficient{20, 2}, c, time.Hour, 2*time.Hour); err != nil || d != time.Hour {
		t.Errorf("dose %v, %v; expected 1h", d, err)
	}
}

// A bath that leaves the table is refused only when the dose is not reached
// before: 24 C to 25 C is still known, and takes 20 minutes here.
func TestUntilLeavesTheTable(t *testing.T) {
	table, err := NewPairs(20, []Pair{{18, 720}, {24, 450}})
	if err != nil {
		t.Fatal(err)
	}
	warming := Course{Readings: []Point{{0, 24}, {40 * time.Minute, 26}}}
	if _, err := Until(table, warming, 0, 20*time.Minute); err != nil {
		t.Error(err) // at over 1.33 times the rate, reached within 15 minutes
	}
	if _, err := Dose(table, warming, 0, 20*time.Minute); err != nil {
		t.Error(err)
	}
	if _, err := Dose(table, warming, 0, 21*time.Minute); !errors.Is(err, ErrOutsideTable) {
		t.Errorf("past the table: %v", err)
	}
	if _, err := Until(table, warming, 0, 40*time.Minute); !errors.Is(err, ErrOutsideTable) {
		t.Errorf("past the table: %v", err)
	}
}

func TestNoAllocationWhereConstant(t *testing.T) {
	var rate Rate = Coefficient{20, 2.2}
	c := Course{Readings: []Point{{0, 22}}}
	if n := testing.AllocsPerRun(100, func() {
		Dose(rate, c, 0, time.Hour)
		Until(rate, c, 0, time.Hour)
	}); n != 0 {
		t.Errorf("%v allocations; expected none", n)
	}
}

var sink time.Duration

func BenchmarkDoseConstant(b *testing.B) {
	var rate Rate = Coefficient{20, 2.2}
	c := Course{Readings: []Point{{0, 22}}}
	b.ReportAllocs()
	for b.Loop() {
		sink, _ = Dose(rate, c, 0, 10*time.Minute)
	}
}

func drifting() Course {
	c := Course{Drift: &Drift{Settle: 18, Tau: time.Hour}}
	for i := range 10 {
		c = c.Add(Point{At: time.Duration(i) * time.Minute, T: 24 - Celsius(i)/10})
	}
	return c
}

func benchmarkUntil(b *testing.B, rate Rate) {
	c := drifting()
	b.ReportAllocs()
	for b.Loop() {
		sink, _ = Until(rate, c, 0, 20*time.Minute)
	}
}

func BenchmarkUntilCoefficient(b *testing.B) { benchmarkUntil(b, Coefficient{20, 2.2}) }

func BenchmarkUntilPairs(b *testing.B) {
	p, err := NewPairs(20, []Pair{{16, 760}, {18, 600}, {20, 510}, {22, 440}, {24, 372}})
	if err != nil {
		b.Fatal(err)
	}
	benchmarkUntil(b, p)
}

func BenchmarkAddAndUntil(b *testing.B) {
	var rate Rate = Coefficient{20, 2.2}
	c := drifting()
	b.ReportAllocs()
	for b.Loop() {
		sink, _ = Until(rate, c.Add(Point{At: 10 * time.Minute, T: 22.9}), 0, 20*time.Minute)
	}
}
