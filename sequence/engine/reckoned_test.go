package engine

// How warm a bath is and how far film has come in it, at the very edges.

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// The bath between two readings lies on a straight line between them; where none works by
// temperature none is reckoned.
func TestReckoned(t *testing.T) {
	dev := recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2.2)
	dev.Temperature.Range = []chem.Celsius{18, 24}
	p := planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Presoak, recipetest.Minute), dev), sequence.Conditions{BathTemperature: recipetest.Degrees(20)})
	n := begun(t, p, 0)
	n.do(sequence.TakeReading{T: 22, Source: sequence.ByHand}, 4*recipetest.Minute)
	for at, want := range map[time.Duration]chem.Celsius{0: 20, time.Minute: 20.5, 3 * time.Minute: 21.5, 4 * time.Minute: 22, 6 * time.Minute: 22} {
		got, within, ok := n.s.Reckoned(at)
		if !ok || math.Abs(float64(got-want)) > 1e-9 || !slices.Equal(within, dev.Temperature.Range) {
			t.Errorf("at %v: %v within %v, %v; expected %v", at, got, within, ok, want)
		}
	}
	m := begun(t, planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{}), 0)
	if _, _, ok := m.s.Reckoned(0); ok {
		t.Error("a fix has no temperature to go by")
	}
}

// A share is told in per cent to scripts.
func TestShareOfDevelopment(t *testing.T) {
	d := Development{Done: 6 * time.Minute, Of: 8 * time.Minute}
	if text, err := d.MarshalJSON(); err != nil || string(text) != "75" || d.Share() != 0.75 {
		t.Errorf("%s, %v, %v", text, d.Share(), err)
	}
	if got := (DevelopmentProgress{Done: time.Minute, Of: 4 * time.Minute}).Share(); got != 0.25 {
		t.Errorf("%v", got)
	}
}

// One degree past either end of a table is lent, and what a conversion from Fahrenheit may be
// off by; no more.
func TestTheEndsOfATable(t *testing.T) {
	w := tabled().Steps[0].Temperature // from 16 to 24 C
	for _, c := range []struct {
		t    chem.Celsius
		want bool
	}{{16, false}, {15, false}, {15 - 0.9e-9, false}, {15 - 1.5e-9, true}, {14, true}, {24, false}, {25, false}, {25 + 0.9e-9, false}, {25 + 1.5e-9, true}, {26, true}, {20, false}} {
		if got := outside(w, c.t); got != c.want {
			t.Errorf("%v: outside %v", c.t, got)
		}
	}
	if outside(&sequence.Temperature{At: 20, Coefficient: 2.2}, 90) {
		t.Error("outside of no table")
	}
}

// Development is uncertain by what the bath was while film was in it: at its ends too, and by
// nothing before or after.
func TestUncertainWhileFilmIsIn(t *testing.T) {
	n := begun(t, planOf(t, tabled(), sequence.Conditions{BathTemperature: recipetest.Degrees(24)}), 0)
	for at, temperature := range map[time.Duration]chem.Celsius{60: 24, 120: 28, 180: 24} {
		n.do(sequence.TakeReading{T: temperature, Source: sequence.ByHand, Confirmed: true}, at*time.Second)
	}
	f := n.s.filmState // above 25 C from 75 to 165 s
	for _, c := range []struct {
		from, to time.Duration
		want     bool
	}{{0, 60, false}, {0, 75, false}, {0, 76, true}, {0, 120, true}, {120, 120, true}, {100, 110, true}, {164, 170, true}, {165, 170, false}, {170, 400, false},
		{74, 166, true}, {60, 180, true}, {110, 60, true}, {60, 10, false}} {
		if got := f.uncertain(0, c.from*time.Second, c.to*time.Second); got != c.want {
			t.Errorf("from %d to %d s: uncertain %v", c.from, c.to, got)
		}
	}
	if f.uncertain(1, 0, 400*time.Second) {
		t.Error("a fix has no table")
	}
}
