package chem

// Baths that are used again, worked by hand.

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestReuseByHand(t *testing.T) {
	table := Reuse{Table: [][2]float64{{4, 1.1}, {8, 1.25}}}
	for _, c := range []struct {
		r        Reuse
		perLitre float64
		factor   float64
		known    bool
	}{
		{Reuse{Longer: 0.02}, 5, 1.1, true},
		{Reuse{Longer: 0.02}, 0, 1, true},
		{Reuse{Longer: 0.3}, 4, 2, false}, // 1 + 4 x 0.3 = 2.2, over twice as long
		{table, 0, 1, true}, {table, 2, 1.05, true}, {table, 4, 1.1, true}, {table, 6, 1.175, true}, {table, 8, 1.25, true}, {table, 9, 1.25, false},
		{Reuse{Replenish: 20}, 7, 1, true},
	} {
		if f, known := c.r.Factor(c.perLitre); math.Abs(f-c.factor) > 1e-12 || known != c.known {
			t.Errorf("%+v after %g a litre: %g (%v); expected %g (%v)", c.r, c.perLitre, f, known, c.factor, c.known)
		}
	}
	// 20 ml a sheet: 100 ml made up for five of six sheets, and 20 ml are wanted
	r := Reuse{Replenish: 20}
	if unmade, owed := r.Unmade(6, 100), r.Owed(6, 100); math.Abs(unmade-1) > 1e-12 || math.Abs(float64(owed-20)) > 1e-12 {
		t.Errorf("%g sheets not made up for, %v ml wanted; expected 1, and 20", unmade, owed)
	}
	if r.Unmade(6, 500) != 0 || r.Owed(6, 500) != 0 || (Reuse{Longer: 0.1}).Owed(6, 0) != 0 || (Reuse{Longer: 0.1}).Unmade(6, 10) != 6 {
		t.Error("more replenisher than film wants, or none called for")
	}
}

// Fresh it takes the recipe's time; the more film, the longer, never over twice as long; replenisher never lengthens.
func TestReuseLaws(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := Reuse{Longer: rapid.Float64Range(0.001, 0.5).Draw(rt, "longer")}
		if rapid.Bool().Draw(rt, "by table") {
			r = Reuse{Table: [][2]float64{{rapid.Float64Range(0.1, 5).Draw(rt, "a"), 1.1}, {rapid.Float64Range(5.1, 20).Draw(rt, "b"), 1.6}}}
		}
		r.Replenish = Millilitres(rapid.Float64Range(0, 50).Draw(rt, "replenish"))
		a, more := rapid.Float64Range(0, 30).Draw(rt, "served"), rapid.Float64Range(0, 30).Draw(rt, "more")
		added := Millilitres(rapid.Float64Range(0, 500).Draw(rt, "added"))
		f, _ := r.Factor(a)
		g, _ := r.Factor(a + more)
		h, _ := r.Factor(r.Unmade(a, added))
		if zero, _ := r.Factor(0); zero != 1 || f < 1 || g < f || g > MostLonger || h > f {
			t.Fatalf("%+v: %g, %g after %g and %g more; %g with %v added", r, f, g, a, more, h, added)
		}
	})
}

// What rounding adds does not put a bath past its table, nor replenisher wanting.
func TestReuseForgivesRounding(t *testing.T) {
	table := Reuse{Table: [][2]float64{{4, 1.1}, {8, 1.25}}}
	for served, want := range map[float64]bool{8 + 5e-10: true, 8 + 2e-9: false} {
		if f, known := table.Factor(served); known != want || f != 1.25 {
			t.Errorf("%v a litre: %g, known %v; expected %v", served, f, known, want)
		}
	}
	r := Reuse{Replenish: 20}
	if r.Owed(6, 120-5e-7) != 0 || r.Owed(6, 120-2e-6) == 0 {
		t.Error("a millionth of a millilitre is owed, or two are not")
	}
}

// A table of one entry is a table, and half a millilitre of replenisher replenishes. By hand.
func TestReuseOfLittle(t *testing.T) {
	one := Reuse{Table: [][2]float64{{4, 1.2}}}
	if f, known := one.Factor(2); math.Abs(f-1.1) > 1e-12 || !known {
		t.Errorf("%g, %v", f, known)
	}
	if f, _ := (Reuse{Longer: 0.4}).Factor(0.5); math.Abs(f-1.2) > 1e-12 {
		t.Errorf("half a sheet a litre: %g; expected 1.2", f)
	}
	if got := (Reuse{Replenish: 0.5}).Unmade(6, 2); math.Abs(got-2) > 1e-12 {
		t.Errorf("%g sheets not made up for; expected 2", got)
	}
}
