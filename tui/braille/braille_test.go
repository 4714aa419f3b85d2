package braille

// Dots where they belong: by the arithmetic of the field, written out anew.

import (
	"math"
	"testing"

	"example.org/wetside/chem/curve"
)

// diagonal rises from (0, 0) to (2, 2).
func diagonal() *curve.Interpolant {
	return curve.NewInterpolant([]float64{0, 1, 2}, []float64{0, 1, 2})
}

func TestRasterOfAStraightLine(t *testing.T) {
	r := New(Extent{0, 2, 2}, 10, 5)
	r.Draw(diagonal(), 7)
	// 20 columns and 20 rows of dots: column x is the density 2x/19, row 19 - x
	for y := range r.H {
		for x := range r.W {
			want := rune(0)
			for dx := range 2 {
				if row := 19 - (2*x + dx); row/4 == y {
					// Unicode 2800: dots 1 2 3 7 in the left column, 4 5 6 8 in the right
					want |= [2][4]rune{{1, 2, 4, 64}, {8, 16, 32, 128}}[dx][row%4]
				}
			}
			got, of := r.Cell(x, y)
			switch {
			case want == 0 && (got != ' ' || of != -1):
				t.Errorf("cell %d,%d: %q of %d; expected none", x, y, got, of)
			case want != 0 && (got != 0x2800+want || of != 7):
				t.Errorf("cell %d,%d: %q of %d; expected %q of 7", x, y, got, of, 0x2800+want)
			}
		}
	}
}

// A part that is steeper than a row for each column of dots has no gaps.
func TestRasterHasNoGaps(t *testing.T) {
	r := New(Extent{0, 2, 2}, 4, 30)
	r.Draw(diagonal(), 0)
	for y := range r.H {
		blank := true
		for x := range r.W {
			if c, _ := r.Cell(x, y); c != ' ' {
				blank = false
			}
		}
		if blank {
			t.Errorf("row %d is empty", y)
		}
	}
}

func TestRasterPlacesAndMarks(t *testing.T) {
	r := New(Extent{-3, 0, 2}, 31, 10)
	for _, tc := range []struct {
		at   curve.Reading
		x, y int
		ok   bool
	}{{curve.Reading{LogH: -3, Density: 2}, 0, 0, true}, {curve.Reading{LogH: 0, Density: 0}, 30, 9, true}, {curve.Reading{LogH: -1.5, Density: 1}, 15, 5, true},
		{curve.Reading{LogH: -3.1, Density: 1}, 0, 0, false}, {curve.Reading{LogH: 0.1, Density: 1}, 0, 0, false}, {curve.Reading{LogH: -1, Density: 9}, 20, 0, true}} {
		x, y, ok := r.CellOf(tc.at)
		if ok != tc.ok || ok && (x != tc.x || y != tc.y) {
			t.Errorf("%v at %d,%d %v; expected %d,%d %v", tc.at, x, y, ok, tc.x, tc.y, tc.ok)
		}
	}
	marks := ""
	for y := range r.H {
		marks += r.AxisLabel(y) + " "
	}
	if marks != "2.0  1.5   1.0  0.5   " { // 0.2 of density a row
		t.Errorf("marks %q", marks)
	}
	ticks := r.Ticks()
	if len(ticks) != 7 || ticks[0] != (Tick{0, "-3.0"}) || ticks[6] != (Tick{30, "0.0"}) {
		t.Errorf("ticks %v", ticks)
	}
}

func TestFieldOf(t *testing.T) {
	if f := ExtentOf([]*curve.Interpolant{diagonal(), nil}); f != (Extent{0, 2, 2}) {
		t.Errorf("%v; expected 0 to 2, up to 2", f)
	}
	if f := ExtentOf(nil); !(f.Right > f.Left) || math.IsInf(float64(f.Left), 0) {
		t.Errorf("%v of no curve", f)
	}
}

// The triangle of ISO 6:1993: 1.30 of log H on and 0.80 up.
func TestTriangle(t *testing.T) {
	c := curve.ISOTriangle(curve.Reading{LogH: -2, Density: 0.26})
	if c[1] != (curve.Reading{LogH: -2 + 1.30, Density: 0.26}) || math.Abs(float64(c[2].Density)-1.06) > 1e-12 || c[2].LogH != c[1].LogH {
		t.Errorf("%v", c)
	}
	r := New(Extent{-3, 0, 2}, 31, 10)
	cells := r.LineCells(c[0], c[1])
	if first, last := cells[0], cells[len(cells)-1]; first != [2]int{10, 8} || last != [2]int{23, 8} || len(cells) != 14 {
		t.Errorf("from %v to %v in %d; expected 14 cells of row 8", first, last, len(cells))
	}
	if out := r.LineCells(curve.Reading{LogH: 1, Density: 1}, curve.Reading{LogH: 2, Density: 1}); out != nil {
		t.Errorf("%v outside the field", out)
	}
}
