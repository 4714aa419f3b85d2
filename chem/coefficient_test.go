package chem

// Rates against published tables, and what they refuse.

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// Wall 1910 p. 44 prints the common logarithm of the ratio for one degree, 0.0373.
func TestWallsLogarithm(t *testing.T) {
	k, err := FitCoefficient([]Point{{70 * time.Second, 8}, {25 * time.Second, 20}})
	if err != nil || math.Abs(math.Log10(k)/10-0.0373) > 0.00005 {
		t.Errorf("log K / 10 = %.5f, %v; Wall has 0.0373", math.Log10(k)/10, err)
	}
}

// USAF T.O. 33B-1-1 / US Army TM 1-1500-335-23, Table 6-16. One coefficient,
// fitted by gonum's regression of ln(time) on temperature, is 1.916 (0.01) and
// gives each entry within 0.3 min.
func TestMildTable(t *testing.T) {
	fahrenheit := []float64{80, 76, 72, 70, 68, 65, 63}
	minutes := []float64{3.25, 3.75, 4, 4.5, 5, 5.5, 6}
	var celsius, ln []float64
	for i := range fahrenheit {
		celsius = append(celsius, float64(FromFahrenheit(fahrenheit[i])))
		ln = append(ln, math.Log(minutes[i]))
	}
	at0, slope := stat.LinearRegression(celsius, ln, nil, false)
	k := Coefficient{Reference: 20, K: math.Exp(-10 * slope)}
	if math.Abs(k.K-1.916) > 0.01 {
		t.Errorf("coefficient %.4f; expected 1.916", k.K)
	}
	for i, m := range minutes {
		r, err := k.At(Celsius(celsius[i]))
		if got := math.Exp(at0+slope*20) / r; err != nil || math.Abs(got-m) > 0.3 {
			t.Errorf("%v F: %.3f min, %v; the table has %v", fahrenheit[i], got, err, m)
		}
	}
}

// The same table as pairs gives its own times back, in any order of entries.
func TestPairsAreExactAtEntries(t *testing.T) {
	table := []Pair{
		{FromFahrenheit(80), 195}, {FromFahrenheit(63), 360}, {FromFahrenheit(72), 240},
		{FromFahrenheit(68), 300}, {FromFahrenheit(76), 225},
	}
	p, err := NewPairs(20, table)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range table {
		if r, err := p.At(e.T); err != nil || math.Abs(300/r-e.Seconds) > 1e-9 {
			t.Errorf("%v C: %v s, %v; the table has %v", e.T, 300/r, err, e.Seconds)
		}
	}
	if table[0].Seconds != 195 || table[1].Seconds != 360 {
		t.Error("the caller's table was sorted in place")
	}
}

// Two pairs are a coefficient: the straight line of ln(time) is the same law.
func TestTwoPairsAreACoefficient(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Coefficient{Reference: 20, K: rapid.Float64Range(1, 6).Draw(t, "K")}
		cold, warm := Celsius(18), Celsius(24)
		rc, _ := k.At(cold)
		rw, _ := k.At(warm)
		p, err := NewPairs(20, []Pair{{cold, 600 / rc}, {warm, 600 / rw}})
		if err != nil {
			t.Fatal(err)
		}
		at := Celsius(rapid.Float64Range(17, 25).Draw(t, "T"))
		a, errA := k.At(at)
		b, errB := p.At(at)
		if errA != nil || errB != nil || math.Abs(a/b-1) > 1e-12 {
			t.Errorf("%v C: %v %v and %v %v", at, a, errA, b, errB)
		}
	})
}

func TestNewPairsRefuses(t *testing.T) {
	good := []Pair{{18, 720}, {24, 450}}
	for name, c := range map[string]struct {
		reference Celsius
		entries   []Pair
		says      string
	}{
		"one entry":         {20, good[:1], "at least two"},
		"twice":             {20, []Pair{{18, 720}, {18, 700}}, "twice"},
		"rising":            {20, []Pair{{18, 400}, {24, 450}}, "fall with warmth"},
		"no time":           {20, []Pair{{18, 720}, {24, 0}}, "above zero"},
		"too steep":         {20, []Pair{{18, 720}, {18.1, 450}}, "too steep"},
		"not a temperature": {20, []Pair{{Celsius(math.NaN()), 720}, {24, 450}}, "out of bounds"},
		"reference outside": {26, good, "expected 17 °C (62.6 °F) to 25 °C (77 °F)"},
	} {
		_, err := NewPairs(c.reference, c.entries)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; expected an error with %q", name, err, c.says)
		}
	}
}

func TestPairsEndOneKelvinPastTheTable(t *testing.T) {
	p, err := NewPairs(20, []Pair{{18, 720}, {24, 450}})
	if err != nil {
		t.Fatal(err)
	}
	perKelvin := math.Pow(720.0/450, 1.0/6) // the line goes on
	for at, want := range map[Celsius]float64{17: 720 * perKelvin, 25: 450 / perKelvin} {
		r, err := p.At(at)
		at20, _ := p.At(20)
		want = (720 / math.Pow(perKelvin, 2)) / want
		if err != nil || math.Abs(r-want) > 1e-12 || at20 != 1 {
			t.Errorf("%v C: rate %v, %v; expected %v (and 1 at 20 C: %v)", at, r, err, want, at20)
		}
	}
	for _, at := range []Celsius{16.99, 25.01, Celsius(math.NaN()), Celsius(math.Inf(1))} {
		if r, err := p.At(at); !errors.Is(err, ErrOutsideTable) {
			t.Errorf("%v C: rate %v, %v; expected ErrOutsideTable", at, r, err)
		}
	}
}

func TestRatesOutOfBounds(t *testing.T) {
	for name, c := range map[string]Coefficient{
		"no coefficient": {20, 0}, "negative": {20, -2}, "not a number": {20, math.NaN()}, "beyond reason": {20, 101},
		"no reference": {Celsius(math.NaN()), 2},
	} {
		if r, err := c.At(24); err == nil {
			t.Errorf("%s: rate %v", name, r)
		}
	}
	if r, err := (Coefficient{20, 2}).At(Celsius(math.Inf(1))); err == nil {
		t.Errorf("infinitely warm: rate %v", r)
	}
	if r, err := (Coefficient{20, 2}).At(30); r != 2 || err != nil {
		t.Errorf("10 C up: rate %v, %v; expected the coefficient, 2", r, err)
	}
	if r, err := (ConstantRate{}).At(Celsius(math.NaN())); r != 1 || err != nil {
		t.Errorf("even: rate %v, %v; expected 1", r, err)
	}
}
