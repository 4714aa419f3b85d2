package page

// A family of curves in a terminal, in braille dots.

import (
	"fmt"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/tui/braille"
)

// CurveText draws the curves in so many columns and rows of text, with round
// marks on both axes.
func CurveText(r curve.Results, width, height int) string {
	var curves []*curve.Interpolant
	for _, c := range r.Curves {
		curves = append(curves, c.Curve)
	}
	d := braille.New(braille.ExtentOf(curves), max(10, width-6), max(4, height-2))
	for i, c := range curves {
		d.Draw(c, i)
	}
	signs := marksOver(d, r)
	var b strings.Builder
	for y := range d.H {
		fmt.Fprintf(&b, "%4s │", d.AxisLabel(y))
		for x := range d.W {
			c, _ := d.Cell(x, y)
			if sign, ok := signs[[2]int{x, y}]; ok && (sign != triangleDot || c == ' ') {
				c = sign
			}
			b.WriteRune(c)
		}
		b.WriteString("\n")
	}
	b.WriteString("     └" + strings.Repeat("─", d.W) + "\n")
	row := blankRow(d.W + 6)
	for _, t := range d.Ticks() {
		putText(row, max(0, 6+t.X-len(t.Text)/2), len(row)-1, t.Text)
	}
	b.WriteString(string(row) + "\n")
	return trimmed(b.String())
}

const triangleDot = '·' // of the triangle, behind the curves

// marksOver is what stands over the curves: the speed points, and the triangle of ISO 6
// at the first.
func marksOver(d *braille.Plot, r curve.Results) map[[2]int]rune {
	signs := map[[2]int]rune{}
	first := true
	for _, c := range r.Curves {
		m, ok := c.SpeedReading()
		if !ok {
			continue
		}
		if x, y, ok := d.CellOf(m); ok {
			signs[[2]int{x, y}] = 'o'
		}
		if !first {
			continue
		}
		first = false
		t := curve.ISOTriangle(m)
		for i := range t {
			for _, at := range d.LineCells(t[i], t[(i+1)%len(t)]) {
				if _, taken := signs[at]; !taken {
					signs[at] = triangleDot
				}
			}
		}
	}
	return signs
}

func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}
