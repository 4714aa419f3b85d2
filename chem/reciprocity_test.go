package chem

// Long exposures against published exponents, gonum's interpolation and the
// laws that every correction keeps.

import (
	"math"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// Schwarzschild: with p = 0.86 a quarter of the light needs 4^(1/0.86) = 5.013
// times as long (arithmetic). K. Schwarzschild, Astrophysical Journal 11 (1900) 89-91, p from memory. Written
// for exposures from 1 s.
func TestQuarterOfTheLight(t *testing.T) {
	full, _, err1 := Exponent(0.86).Correct(20 * time.Second)
	quarter, _, err2 := Exponent(0.86).Correct(80 * time.Second)
	if got := float64(quarter) / float64(full); err1 != nil || err2 != nil || math.Abs(got-5.013) > 0.0005 {
		t.Errorf("a quarter of the light: %.4f times as long, %v %v; expected 5.013", got, err1, err2)
	}
}

// Kron 1914: p = 1/(1 + a), a = 0.22, 0.11, 0.19: t^(1 + a), and I t^p stays
// what it is at 1 s.
func TestKronsPlates(t *testing.T) {
	for _, a := range []float64{0.22, 0.11, 0.19} {
		p := 1 / (1 + a)
		d, beyond, err := Exponent(p).Correct(30 * time.Second)
		if want := math.Exp((1 + a) * math.Log(30)); err != nil || beyond || math.Abs(d.Seconds()-want) > 1e-6 {
			t.Errorf("a = %v: %v, %v; expected %.6f s", a, d, err, want)
		}
		if effect := math.Pow(d.Seconds(), p) / 30; math.Abs(effect-1) > 1e-9 {
			t.Errorf("a = %v: I t^p is %v of its value at 1 s", a, effect)
		}
	}
}

// drawTable draws 2 to 8 entries whose corrections are 1 or more and grow.
func drawTable(t *rapid.T) [][2]time.Duration {
	metered := rapid.Float64Range(0.1, 2).Draw(t, "first")
	factor := rapid.SampledFrom([]float64{1, 1.4}).Draw(t, "factor")
	var table [][2]time.Duration
	for range rapid.IntRange(2, 8).Draw(t, "entries") {
		table = append(table, [2]time.Duration{seconds(metered), seconds(metered * factor)})
		metered *= rapid.Float64Range(1.2, 5).Draw(t, "step")
		factor *= rapid.Float64Range(1, 2).Draw(t, "more")
	}
	return table
}

func TestTableAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		film, err := NewExposureTable(table)
		if err != nil {
			t.Fatal(err)
		}
		var x, y []float64
		for _, e := range table {
			x, y = append(x, math.Log(e[0].Seconds())), append(y, math.Log(e[1].Seconds()))
			if d, beyond, err := film.Correct(e[0]); d != e[1] || beyond || err != nil {
				t.Errorf("%v: %v, %v, %v; expected exactly %v", e[0], d, beyond, err, e[1])
			}
		}
		var lines interp.PiecewiseLinear
		if err := lines.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		m := time.Duration(rapid.Int64Range(int64(table[0][0]), int64(table[len(table)-1][0])).Draw(t, "metered"))
		d, beyond, err := film.Correct(m)
		if want := math.Exp(lines.Predict(math.Log(m.Seconds()))); err != nil || beyond || math.Abs(d.Seconds()/want-1) > 1e-8 {
			t.Errorf("%v: %v, %v, %v; gonum %v s", m, d, beyond, err, want)
		}
	})
}

// A correction is never shorter than metered, grows with the metered time, and
// is flagged where it is extrapolated.
func TestCorrectionsGrow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		film, err := NewExposureTable(table)
		if err != nil {
			t.Fatal(err)
		}
		laws := []Reciprocity{film, Exponent(rapid.Float64Range(0.6, 1).Draw(t, "p"))}
		a := seconds(rapid.Float64Range(0.01, 500).Draw(t, "a"))
		b := seconds(rapid.Float64Range(0.01, 500).Draw(t, "b"))
		for _, law := range laws {
			da, _, errA := law.Correct(min(a, b))
			db, beyond, errB := law.Correct(max(a, b))
			if errA != nil || errB != nil {
				continue // over 1000 h
			}
			if da < min(a, b) || db < max(a, b) || da > db {
				t.Errorf("%T: %v for %v and %v for %v", law, da, min(a, b), db, max(a, b))
			}
			if _, isTable := law.(ExposureTable); isTable && beyond != (max(a, b) > table[len(table)-1][0]) &&
				max(a, b) >= table[0][0] {
				t.Errorf("%v beyond the table: %v", max(a, b), beyond)
			}
		}
	})
}

func TestBelowTheTable(t *testing.T) {
	none, err := NewExposureTable([][2]time.Duration{{time.Second, time.Second}, {10 * time.Second, 30 * time.Second}})
	if err != nil {
		t.Fatal(err)
	}
	if d, beyond, err := none.Correct(seconds(0.3)); d != seconds(0.3) || beyond || err != nil {
		t.Errorf("below a first entry without correction: %v, %v, %v; expected the time itself", d, beyond, err)
	}
	// 1 s -> 1.4 s, 8 s -> 40 s: the line meets the metered time where
	// 1.4 t^s = t with s = ln(40/1.4)/ln 8, at 0.577 s.
	some, err := NewExposureTable([][2]time.Duration{{seconds(8), seconds(40)}, {seconds(1), seconds(1.4)}})
	if err != nil {
		t.Fatal(err)
	}
	slope := math.Log(40/1.4) / math.Log(8)
	meets := math.Pow(1.4, 1/(1-slope))
	if d, beyond, err := some.Correct(seconds(0.9)); !beyond || err != nil || math.Abs(d.Seconds()-1.4*math.Pow(0.9, slope)) > 1e-8 {
		t.Errorf("0.9 s: %v, %v, %v; expected the line to go on, and told", d, beyond, err)
	}
	if d, beyond, err := some.Correct(seconds(meets * 0.99)); d != seconds(meets*0.99) || beyond || err != nil {
		t.Errorf("below %.3f s: %v, %v, %v; expected the time itself", meets, d, beyond, err)
	}
	if d, beyond, err := some.Correct(seconds(16)); !beyond || err != nil || math.Abs(d.Seconds()-40*math.Pow(2, slope)) > 1e-8 {
		t.Errorf("16 s: %v, %v, %v; expected the last line to go on, and told", d, beyond, err)
	}
}

// Where a table's correction lessens (2 for 1 s, 1.2 for 10 s), what is
// extrapolated keeps the correction of the entry it starts from.
func TestExtrapolationNeverLessens(t *testing.T) {
	film, err := NewExposureTable([][2]time.Duration{{seconds(1), seconds(2)}, {seconds(10), seconds(12)}})
	if err != nil {
		t.Fatal(err)
	}
	for metered, want := range map[float64]float64{0.5: 1, 100: 120} {
		if d, beyond, err := film.Correct(seconds(metered)); !beyond || err != nil || math.Abs(d.Seconds()-want) > 1e-8 {
			t.Errorf("%v s: %v, %v, %v; expected %v s, and told", metered, d, beyond, err, want)
		}
	}
}

func TestReciprocityRefuses(t *testing.T) {
	for says, table := range map[string][][2]time.Duration{
		"at least two":         {{1, 1}},
		"no less than metered": {{2, 1}, {3, 4}},
		"twice":                {{2, 3}, {2, 4}},
		"that grow":            {{2, 5}, {3, 5}},
		"above zero":           {{0, 1}, {2, 3}},
	} {
		if _, err := NewExposureTable(table); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v: %v; expected an error with %q", table, err, says)
		}
	}
	for _, p := range []Exponent{0, -1, 1.01, Exponent(math.NaN())} {
		if d, _, err := p.Correct(time.Minute); err == nil {
			t.Errorf("exponent %v gave %v", p, d)
		}
	}
	for name, call := range map[string]func() (Exposure, error){
		"no time":       func() (Exposure, error) { return Expose(0, 1, 1, nil) },
		"dark filter":   func() (Exposure, error) { return Expose(1, 0.5, 1, nil) },
		"short bellows": func() (Exposure, error) { return Expose(1, 1, math.NaN(), nil) },
		"too long":      func() (Exposure, error) { return Expose(time.Hour, 1e3, 1e3, nil) },
		"empty table":   func() (Exposure, error) { return Expose(1, 1, 1, ExposureTable{}) },
		"far too weak":  func() (Exposure, error) { return Expose(time.Hour, 1, 1, Exponent(0.1)) },
	} {
		if e, err := call(); err == nil {
			t.Errorf("%s: %+v; expected an error", name, e)
		}
	}
}

func TestBellowsFactor(t *testing.T) {
	for _, c := range []struct{ extension, focal, want float64 }{{300, 150, 4}, {150, 150, 1}, {140, 150, 1}} {
		if f, err := BellowsFactor(c.extension, c.focal); err != nil || math.Abs(f-c.want) > 1e-12 {
			t.Errorf("%v over %v: %v, %v; expected %v", c.extension, c.focal, f, err, c.want)
		}
	}
	if f, err := BellowsFactor(0, 150); err == nil {
		t.Errorf("no extension: %v", f)
	}
	if e, err := Expose(time.Second, 1, 4, nil); err != nil || e.Stops != 2 || e.Final != 4*time.Second {
		t.Errorf("life size: %+v, %v; expected two stops", e, err)
	}
}

// Life size wants two stops, half of it (1.5)^2 (thin lens); three quarters more extension than the focal length 1.8^2.
func TestMagnificationFactor(t *testing.T) {
	for m, want := range map[float64]float64{0: 1, 0.5: 2.25, 1: 4, 3: 16} {
		if got, err := MagnificationFactor(m); err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%g: %g, %v; expected %g", m, got, err, want)
		}
	}
	if f, err := BellowsFactor(0.9, 0.5); err != nil || math.Abs(f-3.24) > 1e-12 {
		t.Errorf("%g, %v; expected 3.24", f, err)
	}
	// a table in any order is the same table
	film, err := NewExposureTable([][2]time.Duration{{2, 6}, {1, 5}})
	if d, _, err2 := film.Correct(1); err != nil || err2 != nil || d != 5 {
		t.Errorf("%v, %v, %v", d, err, err2)
	}
	// a range of light whose weak end is a nanosecond counts from a nanosecond: log10(10)/2
	if g, err := ContrastGain(Exponent(1), 1, 2); err != nil || math.Abs(g-0.5) > 1e-12 {
		t.Errorf("%g, %v", g, err)
	}
	if m, err := MeteredFor(Exponent(1), 1); err != nil || m > 1 {
		t.Errorf("%v, %v", m, err)
	}
}
