package widget

// Curves in braille dots, two by four to a cell, with named axes and ticks at round values.

import (
	"math"
	"strconv"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
)

// Point is a place on a plot.
type Point struct{ X, Y float64 }

// Curve is a line through points, ending in its label.
type Curve struct {
	Label  string
	Points []Point
	Ink    *lipgloss.Style // nil for quiet
}

// Sign is a character at a place, over the curves.
type Sign struct {
	At   Point
	Sign rune
	Ink  *lipgloss.Style
}

// Axis is named and goes from a value to another; where both are 0 as far as the curves.
type Axis struct {
	Name     string
	From, To float64
}

// Plot is curves over axes. Later curves are drawn over earlier ones: the one that matters
// comes last.
type Plot struct {
	X, Y          Axis
	Curves        []Curve
	Signs         []Sign
	Width, Height int
}

// The least plot worth drawing.
const (
	leastPlotWidth  = 20
	leastPlotHeight = 6
)

// frame is where a plot's parts lie on its canvas.
type frame struct {
	x, y  span
	left  int // column of the first dots
	w, h  int // cells of the dots
	ticks struct{ x, y []float64 }
	steps struct{ x, y float64 }
}

// View draws it; "" where there is no room for it.
func (p Plot) View() string {
	if p.Width < leastPlotWidth || p.Height < leastPlotHeight {
		return ""
	}
	f := p.frame()
	c := newCanvas(p.Width, p.Height)
	p.axes(c, f)
	ends := p.curves(c, f)
	for _, s := range p.Signs {
		if x, y, ok := f.cell(s.At); ok {
			c.set(f.left+x, y, s.Sign, s.Ink)
		}
	}
	p.labels(c, ends)
	return c.View()
}

func (p Plot) frame() (f frame) {
	f.h = p.Height - 3 // the axis, its values, its name
	f.x, f.y = p.spans()
	f.ticks.y, f.steps.y = f.y.ticks(f.h/4 + 1)
	f.left = 2
	for _, v := range f.ticks.y {
		f.left = max(f.left, ansi.StringWidth(number(v, f.steps.y))+3)
	}
	right := 0
	for _, k := range p.Curves {
		right = max(right, ansi.StringWidth(k.Label)+2)
	}
	f.w = max(8, p.Width-f.left-min(right, p.Width/4))
	f.ticks.x, f.steps.x = f.x.ticks(f.w / 8)
	return f
}

// spans are what the axes go over.
func (p Plot) spans() (x, y span) {
	x, y = p.X.span(), p.Y.span()
	for _, k := range p.Curves {
		for _, at := range k.Points {
			if p.X.open() {
				x = x.with(at.X)
			}
			if p.Y.open() {
				y = y.with(at.Y)
			}
		}
	}
	return x.usable(), y.usable()
}

// open tells whether the axis goes as far as the curves.
func (a Axis) open() bool { return a.From == 0 && a.To == 0 }

func (a Axis) span() span {
	if a.open() {
		return span{math.Inf(1), math.Inf(-1)}
	}
	return span{a.From, a.To}
}

func (p Plot) axes(c canvas, f frame) {
	for y := range f.h {
		c.set(f.left-1, y, '│', &style.Rule)
	}
	c.set(f.left-1, f.h, '└', &style.Rule)
	for x := range f.w {
		c.set(f.left+x, f.h, '─', &style.Rule)
	}
	for _, v := range f.ticks.y {
		if _, y, ok := f.cell(Point{f.x.least, v}); ok && (y > 0 || p.Y.Name == "") {
			s := number(v, f.steps.y)
			c.text(f.left-2-ansi.StringWidth(s), y, s, &style.Quiet)
			c.set(f.left-1, y, '┤', &style.Rule)
		}
	}
	c.text(max(0, f.left-2-ansi.StringWidth(p.Y.Name)), 0, Truncate(p.Y.Name, max(1, f.left+f.w)), &style.Quiet)
	for _, v := range f.ticks.x {
		if x, _, ok := f.cell(Point{v, f.y.least}); ok {
			s := number(v, f.steps.x)
			n := ansi.StringWidth(s)
			at := max(0, min(f.left+x-n/2, p.Width-n))
			if c.free(at-1, at+n+1, f.h+1) {
				c.set(f.left+x, f.h, '┴', &style.Rule)
				c.text(at, f.h+1, s, &style.Quiet)
			}
		}
	}
	name := Truncate(p.X.Name, f.w)
	c.text(f.left+(f.w-ansi.StringWidth(name))/2, f.h+2, name, &style.Quiet)
}

// labels writes each curve's label where it ends, or as near as there is room.
func (p Plot) labels(c canvas, ends []end) {
	for i := len(ends) - 1; i >= 0; i-- {
		e := ends[i]
		n := ansi.StringWidth(e.label)
		x := max(0, min(e.x+2, p.Width-n))
		for off := range 2 * c.h {
			y := e.y + (off+1)/2*(1-2*(off%2))
			if y >= 0 && y < c.h-3 && c.free(x-1, x+n+1, y) {
				c.text(x, y, e.label, e.ink)
				break
			}
		}
	}
}

// span is what an axis goes over.
type span struct{ least, most float64 }

// farthest is beyond what anybody measures; a value that is not a number is left out too.
const farthest = 1e9

func (s span) with(v float64) span {
	if !(math.Abs(v) <= farthest) {
		return s
	}
	return span{min(s.least, v), max(s.most, v)}
}

// usable makes an axis of one value, or of none, too, and of values that hardly differ.
func (s span) usable() span {
	const hair = 1e-6
	switch {
	case math.IsInf(s.least, 0):
		return span{0, 1}
	case !(s.most-s.least > hair*max(1, math.Abs(s.least), math.Abs(s.most))):
		room := max(0.5, math.Abs(s.least)*hair)
		return span{s.least - room, s.least + room}
	}
	return s
}

// ticks are round values on the axis, so many at most, a step of 1, 2 or 5 by a power of ten
// apart.
func (s span) ticks(most int) (list []float64, step float64) {
	rough := (s.most - s.least) / float64(max(1, most))
	step = math.Pow(10, math.Floor(math.Log10(rough)))
	for _, k := range []float64{1, 2, 5, 10} {
		if k*step >= rough*(1-1e-9) {
			step *= k
			break
		}
	}
	for k := math.Ceil(s.least/step - 1e-9); k*step <= s.most+step*1e-9; k++ {
		list = append(list, k*step+0) // + 0: no negative zero
	}
	return list, step
}

// number is a tick's value, with the decimals that the step needs and a true minus.
func number(v, step float64) string {
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < -step/2 {
		return "−" + s
	}
	return s
}
