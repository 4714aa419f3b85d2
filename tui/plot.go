package tui

// Curves in braille dots: density upward from zero, log exposure to the right, a
// mark for every half of both.

import (
	"example.org/wetside/chem/curve"
	"example.org/wetside/tui/braille"
)

// plot is a picture of curves in a rectangle of the grid.
type plot struct {
	g      grid
	in     rect // of the dots
	raster *braille.Plot
}

// plotMarks are the columns left of the dots, for the scale of density.
const plotMarks = 5

func newPlot(g grid, r rect, f braille.Extent) plot {
	in := rect{r.x + plotMarks, r.y, r.w - plotMarks, r.h - 2}
	return plot{g, in, braille.New(f, in.w, in.h)}
}

func (p plot) curve(c *curve.Interpolant, number int) { p.raster.Draw(c, number) }

// show draws the axes and the curves; bright tells how bright each is.
func (p plot) show(bright func(int) brightness) {
	for y := range p.in.h {
		p.g.right(rect{p.in.x - plotMarks, p.in.y + y, plotMarks - 2, 1}, p.raster.AxisLabel(y), dim)
		p.g.set(p.in.x-1, p.in.y+y, '│', faint)
		for x := range p.in.w {
			if c, number := p.raster.Cell(x, y); c != ' ' {
				p.g.set(p.in.x+x, p.in.y+y, c, bright(number))
			}
		}
	}
	foot := p.in.y + p.in.h
	p.g.set(p.in.x-1, foot, '└', faint)
	for x := range p.in.w {
		p.g.set(p.in.x+x, foot, '─', faint)
	}
	last := -1
	for _, t := range p.raster.Ticks() {
		x := t.X - len(t.Text)/2
		if x <= last || x+len(t.Text) > p.in.w {
			continue
		}
		p.g.text(rect{p.in.x + x, foot + 1, len(t.Text), 1}, t.Text, dim)
		last = x + len(t.Text)
	}
}

// mark puts a sign on a reading.
func (p plot) mark(r curve.Reading, sign rune, l brightness) {
	if x, y, ok := p.raster.CellOf(r); ok {
		p.g.set(p.in.x+x, p.in.y+y, sign, l)
	}
}

// cursor marks an exposure under the axis.
func (p plot) cursor(h curve.LogH) {
	if x, _, ok := p.raster.CellOf(curve.Reading{LogH: h}); ok {
		p.g.set(p.in.x+x, p.in.y+p.in.h, '▲', bright)
	}
}

// triangle draws the triangle of ISO 6 at a speed point, behind the curves.
func (p plot) triangle(m curve.Reading) {
	c := curve.ISOTriangle(m)
	for i := range c {
		for _, at := range p.raster.LineCells(c[i], c[(i+1)%len(c)]) {
			if r, _ := p.raster.Cell(at[0], at[1]); r == ' ' {
				p.g.set(p.in.x+at[0], p.in.y+at[1], '·', dim)
			}
		}
	}
}
