package curve

// Curves as dots on a field of character cells, two dots wide and four high to a
// cell: for pages and screens of text. Only arithmetic; what a cell is coloured is
// for them to say.

import (
	"fmt"
	"math"
)

// Field is what a raster spans.
type Field struct {
	Left, Right LogH
	Top         Density // from zero up
}

// FieldOf spans curves: their exposures, and densities up to the next half.
func FieldOf(curves []*Interpolant) Field {
	f := Field{LogH(math.Inf(1)), LogH(math.Inf(-1)), 0.5}
	for _, c := range curves {
		if c == nil {
			continue
		}
		from, to := c.Range()
		f.Left, f.Right, f.Top = min(f.Left, from), max(f.Right, to), max(f.Top, Density(c.greatest()))
	}
	f.Top = Density(math.Ceil(float64(f.Top)*2-hair) / 2)
	if !(f.Right > f.Left) || math.IsInf(float64(f.Left), 0) {
		f.Left, f.Right = -1, 1
	}
	return f
}

// Raster is a field of W x H cells.
type Raster struct {
	W, H  int
	field Field
	dots  []rune // the eight dots of each cell
	of    []int  // whose curve went through it last; -1: none
}

// NewRaster is an empty one, of at least one cell.
func NewRaster(f Field, w, h int) *Raster {
	r := &Raster{W: max(1, w), H: max(1, h), field: f}
	r.dots, r.of = make([]rune, r.W*r.H), make([]int, r.W*r.H)
	for i := range r.of {
		r.of[i] = -1
	}
	return r
}

// Draw draws a curve, nothing for nil; its cells are remembered as of that number.
func (r *Raster) Draw(c *Interpolant, number int) {
	if c == nil {
		return
	}
	before := -1
	for x := range 2 * r.W {
		h := float64(r.field.Left) + float64(r.field.Right-r.field.Left)*float64(x)/float64(2*r.W-1)
		d, ok := c.At(LogH(h))
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
			r.set(x, dot, number)
		}
		before = y
	}
}

func (r *Raster) set(x, y, number int) {
	at := y/4*r.W + x/2
	r.dots[at] |= bits[x%2][y%4]
	r.of[at] = number
}

// bits are the braille dots by column and row (Unicode, block 2800).
var bits = [2][4]rune{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// dotRow is the row of dots of a density, kept inside.
func (r *Raster) dotRow(d Density) int {
	row := int(math.Round(float64((r.field.Top - d) / r.field.Top * Density(4*r.H-1))))
	return min(max(row, 0), 4*r.H-1)
}

// Place is the cell of a reading; false outside the field.
func (r *Raster) Place(p Reading) (x, y int, ok bool) {
	if p.LogH < r.field.Left-hair || p.LogH > r.field.Right+hair {
		return 0, 0, false
	}
	return r.column(p.LogH), r.dotRow(p.Density) / 4, true
}

func (r *Raster) column(h LogH) int {
	return int(math.Round(float64((h - r.field.Left) / (r.field.Right - r.field.Left) * LogH(r.W-1))))
}

// Cell is the character of a cell, a blank where nothing is, and whose curve it is.
func (r *Raster) Cell(x, y int) (c rune, number int) {
	at := y*r.W + x
	if r.dots[at] == 0 {
		return ' ', -1
	}
	return 0x2800 + r.dots[at], r.of[at]
}

// Mark is the density at a row's left edge: every half; "" between.
func (r *Raster) Mark(y int) string {
	const step = 0.5
	upper := float64(r.field.Top) * (1 - float64(4*y)/float64(4*r.H))
	lower := float64(r.field.Top) * (1 - float64(4*y+4)/float64(4*r.H))
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
func (r *Raster) Ticks() (list []Tick) {
	for k := math.Ceil(float64(r.field.Left) * 2); k <= float64(r.field.Right)*2+hair; k++ {
		list = append(list, Tick{r.column(LogH(k / 2)), fmt.Sprintf("%.1f", k/2+0)}) // + 0: no negative zero
	}
	return list
}

// Between is the cells on the straight line from one reading to another, those
// outside the field left out.
func (r *Raster) Between(a, b Reading) (cells [][2]int) {
	steps := 2 * (r.W + r.H)
	for i := range steps + 1 {
		u := float64(i) / float64(steps)
		p := Reading{a.LogH + LogH(u)*(b.LogH-a.LogH), a.Density + Density(u)*(b.Density-a.Density)}
		x, y, ok := r.Place(p)
		if !ok || p.Density > r.field.Top || p.Density < 0 {
			continue
		}
		if at := [2]int{x, y}; len(cells) == 0 || cells[len(cells)-1] != at {
			cells = append(cells, at)
		}
	}
	return cells
}

// Triangle is that of ISO 6:1993 at a speed point: 1.30 of log H on, and 0.80 up.
func Triangle(m Reading) (corners [3]Reading) {
	return [3]Reading{m, {m.LogH + averagedOver, m.Density}, {m.LogH + averagedOver, m.Density + validRise}}
}
