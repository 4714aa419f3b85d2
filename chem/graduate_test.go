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
