// Package braille is curves as dots on a field of character cells, two dots wide and four high
// to a cell, for pages and screens of text.
//
// It is arithmetic: colours are for whoever shows the cells.
package braille

import (
	"fmt"
	"math"

	"example.org/wetside/chem/curve"
)

// Extent is what a raster spans.
type Extent struct {
	Left, Right curve.LogH
	Top         curve.Density // from zero up
}

// ExtentOf spans curves: their exposures, and densities up to the next half.
func ExtentOf(curves []*curve.Interpolant) Extent {
	f := Extent{curve.LogH(math.Inf(1)), curve.LogH(math.Inf(-1)), 0.5}
	for _, c := range curves {
		if c == nil {
			continue
		}
		from, to := c.Range()
		f.Left, f.Right, f.Top = min(f.Left, from), max(f.Right, to), max(f.Top, curve.Density(c.MaxDensity()))
	}
	f.Top = curve.Density(math.Ceil(float64(f.Top)*2-curve.Tolerance) / 2)
	if !(f.Right > f.Left) || math.IsInf(float64(f.Left), 0) {
		f.Left, f.Right = -1, 1
	}
	return f
}

// Plot is a field of W x H cells.
type Plot struct {
	W, H   int
	extent Extent
	dots   []rune // the eight dots of each cell
	owner  []int  // whose curve went through it last; -1: none
}

// New is an empty one, of at least one cell.
func New(f Extent, w, h int) *Plot {
	r := &Plot{W: max(1, w), H: max(1, h), extent: f}
	r.dots, r.owner = make([]rune, r.W*r.H), make([]int, r.W*r.H)
	for i := range r.owner {
		r.owner[i] = -1
	}
	return r
}

// Draw draws a curve, nothing for nil; its cells are remembered as of that number.
func (r *Plot) Draw(c *curve.Interpolant, number int) {
	if c == nil {
		return
	}
	before := -1
	for x := range 2 * r.W {
		h := float64(r.extent.Left) + float64(r.extent.Right-r.extent.Left)*float64(x)/float64(2*r.W-1)
		d, ok := c.At(curve.LogH(h))
		if !ok {
			before = -1
			continue
		}
		y := r.dotRow(d)
		from, to := y, y
		if before >= 0 && y < before-1 { // a steep part has no gaps
			to = before - 1
		} else if before >= 0 && y > before+1 {
			from = before + 1
		}
		for dot := from; dot <= to; dot++ {
			r.setDot(x, dot, number)
		}
		before = y
	}
}

func (r *Plot) setDot(x, y, number int) {
	at := y/4*r.W + x/2
	r.dots[at] |= dotBits[x%2][y%4]
	r.owner[at] = number
}

// dotBits are the braille dots by column and row (Unicode, block 2800).
var dotBits = [2][4]rune{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// dotRow is the row of dots of a density, kept inside.
func (r *Plot) dotRow(d curve.Density) int {
	row := int(math.Round(float64((r.extent.Top - d) / r.extent.Top * curve.Density(4*r.H-1))))
	return min(max(row, 0), 4*r.H-1)
}

// CellOf is the cell of a reading; false outside the field.
func (r *Plot) CellOf(p curve.Reading) (x, y int, ok bool) {
	if p.LogH < r.extent.Left-curve.Tolerance || p.LogH > r.extent.Right+curve.Tolerance {
		return 0, 0, false
	}
	return r.column(p.LogH), r.dotRow(p.Density) / 4, true
}

func (r *Plot) column(h curve.LogH) int {
	return int(math.Round(float64((h - r.extent.Left) / (r.extent.Right - r.extent.Left) * curve.LogH(r.W-1))))
}

// Cell is the character of a cell, a blank where nothing is, and whose curve it is.
func (r *Plot) Cell(x, y int) (c rune, number int) {
	at := y*r.W + x
	if r.dots[at] == 0 {
		return ' ', -1
	}
	return 0x2800 + r.dots[at], r.owner[at]
}

// AxisLabel is the density at a row's left edge: every half; "" between.
func (r *Plot) AxisLabel(y int) string {
	const step = 0.5
	upper := float64(r.extent.Top) * (1 - float64(4*y)/float64(4*r.H))
	lower := float64(r.extent.Top) * (1 - float64(4*y+4)/float64(4*r.H))
	if k := math.Floor(upper/step) * step; k > lower {
		return fmt.Sprintf("%.1f", k)
	}
	return ""
}

// Tick is a mark under the axis of exposure.
type Tick struct {
	X    int // column
	Text string
}

// Ticks are the marks of every half of log H.
func (r *Plot) Ticks() (list []Tick) {
	for k := math.Ceil(float64(r.extent.Left) * 2); k <= float64(r.extent.Right)*2+curve.Tolerance; k++ {
		list = append(list, Tick{r.column(curve.LogH(k / 2)), fmt.Sprintf("%.1f", k/2+0)}) // + 0: no negative zero
	}
	return list
}

// LineCells is the cells on the straight line from one reading to another, those
// outside the field left out.
func (r *Plot) LineCells(a, b curve.Reading) (cells [][2]int) {
	steps := 2 * (r.W + r.H)
	for i := range steps + 1 {
		u := float64(i) / float64(steps)
		p := curve.Reading{LogH: a.LogH + curve.LogH(u)*(b.LogH-a.LogH), Density: a.Density + curve.Density(u)*(b.Density-a.Density)}
		x, y, ok := r.CellOf(p)
		if !ok || p.Density > r.extent.Top || p.Density < 0 {
			continue
		}
		if at := [2]int{x, y}; len(cells) == 0 || cells[len(cells)-1] != at {
			cells = append(cells, at)
		}
	}
	return cells
}
