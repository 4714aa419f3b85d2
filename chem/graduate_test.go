package chem

import (
	"math"
	"testing"
)

// Each part of the mix that is proposed is a whole number of divisions, and nothing smaller is.
// Counted by hand: 1 + 3 + 80 goes by 84 divisions, 1+49 by 50, and 0.5 + 9.5 by 20.
func TestOnMarks(t *testing.T) {
	for _, c := range []struct {
		division Graduate
		parts    []float64
		wanted   Millilitres
		expected Millilitres
	}{
		{1, []float64{1, 3, 80}, 1500, 1512},
		{1, []float64{1, 3, 80}, 1512, 1512},
		{5, []float64{1, 49}, 600, 750},
		{2, []float64{0.5, 9.5}, 41, 80},
		{1, []float64{2, 4}, 100, 102},
		{1, []float64{1, math.Sqrt2}, 100, 0},
	} {
		var parts []Part
		for i, p := range c.parts {
			parts = append(parts, Part{Name: string(rune('A' + i)), Parts: p})
		}
		if got := c.division.OnMarks(parts, c.wanted); math.Abs(float64(got-c.expected)) > 1e-9 {
			t.Errorf("%v of %v with %v: %v; expected %v", c.wanted, c.parts, c.division, got, c.expected)
		}
	}
}

// Parts that are whole but for rounding are whole; parts whose ratio wants numbers over a thousand have no marks. By hand:
// 1/3 and 1 are 1 and 3, in four divisions; 1 and 1.001 would want a thousandfold; 0.998 and 0.002 are 499 and 1.
func TestOnMarksEnds(t *testing.T) {
	for _, c := range []struct {
		a, b     float64
		wanted   Millilitres
		expected float64
	}{{1.0 / 3, 1, 10, 12}, {1, 1.001, 10, 0}, {0.998, 0.002, 10, 500}, {1, 3, 12.000000001, 12}, {1, 3, 12.001, 16}, {1, 1 + 1e-8, 10, 0},
		{1, 1 + 1e-10, 10, 10}, {999999, 1, 10, 1e6},
		{1, 3, 12.000001, 16}, {1.0 / 999, 1, 10, 1000}, {1.0 / 1001, 1, 10, 0}, {600000.5, 1, 10, 0}, {1000.0000001, 1, 10, 1001}, {3, 6, 100, 102}, {1, 3, 0.5, 4}} {
		got := Graduate(1).OnMarks([]Part{{"A", c.a}, {"B", c.b}}, c.wanted)
		if math.Abs(float64(got)-c.expected) > 1e-6*c.expected {
			t.Errorf("%v and %v: %v; expected %v", c.a, c.b, got, c.expected)
		}
	}
	if got := Graduate(1).OnMarks(nil, 100); got != 0 {
		t.Errorf("no parts: %v", got)
	}
	mix := []Part{{"A", 2}, {"B", 6}, {"water", 192}}
	// a millilitre's half of 1 % is 50 ml of A, and there are 200 parts
	if v, name, err := Graduate(1).MinMix(mix, 0.01); err != nil || name != "A" || math.Abs(float64(v)-5000) > 1e-9 {
		t.Errorf("%v, %q, %v", v, name, err)
	}
	if mark, off, err := Graduate(5).Round(52); err != nil || mark != 50 || math.Abs(off+2.0/52) > 1e-12 {
		t.Errorf("%v, %g, %v", mark, off, err)
	}
}
