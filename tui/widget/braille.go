package widget

// Curves drawn in the dots of braille characters.

import (
	"math"

	"github.com/charmbracelet/lipgloss"

	"example.org/wetside/tui/style"
)

// end is where a curve ended on the canvas.
type end struct {
	x, y  int
	label string
	ink   *lipgloss.Style
}

// dots is a raster of two by four dots a cell. A cell has one ink: where a curve of another
// comes later it has the cell for itself, so that the one that matters stays clear.
type dots struct {
	w, h int // cells
	bits []uint8
	inks []*lipgloss.Style
}

// bit is a dot's place in a braille character (Unicode, "Braille Patterns", U+2800).
var bit = [4][2]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

func (d dots) set(x, y int, ink *lipgloss.Style) {
	if x < 0 || y < 0 || x >= 2*d.w || y >= 4*d.h {
		return
	}
	at := y/4*d.w + x/2
	if d.inks[at] != ink {
		d.bits[at], d.inks[at] = 0, ink
	}
	d.bits[at] |= bit[y%4][x%2]
}

// dot is where a point lies in dots.
func (f frame) dot(p Point) (x, y float64) {
	x = (p.X - f.x.least) / (f.x.most - f.x.least) * float64(2*f.w-1)
	y = (f.y.most - p.Y) / (f.y.most - f.y.least) * float64(4*f.h-1)
	return x, y
}

// cell is in which cell a point lies, and whether it lies on the plot.
func (f frame) cell(p Point) (x, y int, ok bool) {
	dx, dy := f.dot(p)
	if !(dx > -1 && dx < float64(2*f.w) && dy > -1 && dy < float64(4*f.h)) {
		return 0, 0, false
	}
	return int(math.Round(dx)) / 2, int(math.Round(dy)) / 4, true
}

// curves draws them and tells where each ended.
func (p Plot) curves(c canvas, f frame) (ends []end) {
	d := dots{f.w, f.h, make([]uint8, f.w*f.h), make([]*lipgloss.Style, f.w*f.h)}
	for _, k := range p.Curves {
		last, any := Point{}, false
		for j, to := range k.Points {
			if j > 0 {
				d.line(f, k.Points[j-1], to, inkOf(k))
			} else {
				d.line(f, to, to, inkOf(k))
			}
			if _, _, ok := f.cell(to); ok {
				last, any = to, true
			}
		}
		if x, y, ok := f.cell(last); any && ok && k.Label != "" {
			ends = append(ends, end{f.left + x, y, k.Label, inkOf(k)})
		}
	}
	for at, b := range d.bits {
		if b != 0 {
			c.set(f.left+at%f.w, at/f.w, 0x2800+rune(b), d.inks[at])
		}
	}
	return ends
}

func inkOf(k Curve) *lipgloss.Style {
	if k.Ink == nil {
		return &style.Quiet
	}
	return k.Ink
}

// line sets the dots between two points, without gaps.
func (d dots) line(f frame, a, b Point, ink *lipgloss.Style) {
	ax, ay := f.dot(a)
	bx, by := f.dot(b)
	long := max(math.Abs(bx-ax), math.Abs(by-ay))
	const far = 1e5 // dots: nothing of it would be seen
	if math.IsNaN(long) || long > far {
		return
	}
	n := int(math.Ceil(long))
	for i := range n + 1 {
		share := 0.0
		if n > 0 {
			share = float64(i) / float64(n)
		}
		d.set(int(math.Round(ax+(bx-ax)*share)), int(math.Round(ay+(by-ay)*share)), ink)
	}
}
