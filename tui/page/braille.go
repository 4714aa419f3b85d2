package page

// A family of curves in a terminal, in braille dots: two columns and four rows of
// them to a cell.

import (
	"fmt"
	"math"
	"strings"

	"example.org/wetside/chem/curve"
)

// CurveText draws the curves in so many columns and rows of text, with round
// marks on both axes.
func CurveText(r curve.Results, width, height int) string {
	d := dots{w: max(10, width-6), h: max(4, height-2)}
	d.cells = make([]rune, d.w*d.h)
	d.bounds(r)
	for _, c := range r.Curves {
		d.curve(c)
	}
	return d.text()
}

// dots is a field of braille cells over a range of exposures and densities.
type dots struct {
	w, h             int
	cells            []rune // the eight dots of each cell
	left, right, top float64
}

func (d *dots) bounds(r curve.Results) {
	d.left, d.right, d.top = math.Inf(1), math.Inf(-1), 0.5
	for _, c := range r.Curves {
		from, to := c.Curve.Range()
		d.left, d.right = min(d.left, float64(from)), max(d.right, float64(to))
		d.top = max(d.top, float64(c.BaseFog+c.DensityRange))
	}
	d.top = math.Ceil(d.top*2) / 2
	if !(d.right > d.left) {
		d.left, d.right = d.left-1, d.left+1
	}
}

func (d *dots) curve(c curve.Result) {
	for x := range 2 * d.w {
		h := d.left + (d.right-d.left)*float64(x)/float64(2*d.w-1)
		y, ok := c.Curve.At(curve.LogH(h))
		if !ok {
			continue
		}
		row := int(math.Round((d.top - float64(y)) / d.top * float64(4*d.h-1)))
		d.set(x, min(max(row, 0), 4*d.h-1))
	}
}

// bits are the braille dots by column and row (Unicode, block 2800).
var bits = [2][4]rune{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

func (d *dots) set(x, y int) { d.cells[y/4*d.w+x/2] |= bits[x%2][y%4] }

func (d *dots) text() string {
	var b strings.Builder
	step := 0.5
	for y := range d.h {
		label := "     "
		upper := d.top * (1 - float64(4*y)/float64(4*d.h))
		lower := d.top * (1 - float64(4*y+4)/float64(4*d.h))
		if k := math.Floor(upper/step) * step; k > lower {
			label = fmt.Sprintf("%4.1f ", k)
		}
		b.WriteString(label + "│")
		for x := range d.w {
			if c := d.cells[y*d.w+x]; c != 0 {
				b.WriteRune(0x2800 + c)
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString("\n")
	}
	b.WriteString("     └" + strings.Repeat("─", d.w) + "\n" + d.scale() + "\n")
	return trimmed(b.String())
}

// scale is the marks under the axis of exposure, every half where there is room.
func (d *dots) scale() string {
	row := blank(d.w + 6)
	for k := math.Ceil(d.left*2) / 2; k <= d.right+1e-9; k += 0.5 {
		x := 6 + int(math.Round((k-d.left)/(d.right-d.left)*float64(d.w-1)))
		label := fmt.Sprintf("%.1f", k)
		write(row, max(0, x-len(label)/2), len(row)-1, label)
	}
	return string(row)
}

func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}
