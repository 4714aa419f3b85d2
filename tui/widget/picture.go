package widget

// A picture in half-block cells, two of its pixels above each other in one cell, with lines over it.

import (
	"cmp"
	"math"
	"strings"

	"example.org/wetside/tui/style"
)

// Depth is how many shades a picture is drawn in.
type Depth int

// The depths.
const (
	Colours Depth = iota
	Greys         // half blocks in grey
	Shades        // characters of four densities of ink: for terminals of sixteen colours
)

// PictureLine is a line over a picture, between places in its pixels. Dotted, every second is black: it
// is seen on light and on dark.
type PictureLine struct {
	X1, Y1, X2, Y2 float64
	Colour         [3]uint8
	Dotted         bool
	Sign           rune // that it is made of where a picture is characters; 0: a cross, or a point where it is dotted
}

func (l PictureLine) sign() rune {
	switch {
	case l.Sign != 0:
		return l.Sign
	case l.Dotted:
		return '.'
	}
	return '+'
}

// Picture is drawn as large as its room allows, its sides in proportion.
type Picture struct {
	W, H          int // pixels
	Pix           [][3]uint8
	Lines         []PictureLine
	Depth         Depth
	Width, Height int // cells of the room
}

// grid is the picture's pixels as they are drawn, and which of them a line has.
type grid struct {
	w, h  int
	scale float64 // of the grid to the picture
	pix   [][3]uint8
	line  []rune // 0 for none
}

// View draws it; "" where there is nothing to draw or no room.
func (p Picture) View() string {
	if p.W < 1 || p.H < 1 || p.Width < 1 || p.Height < 1 {
		return ""
	}
	g := p.grid()
	for _, l := range p.Lines {
		g.draw(l)
	}
	rows := make([]string, g.h/2)
	for y := range rows {
		upper, lower := g.pix[2*y*g.w:(2*y+1)*g.w], g.pix[(2*y+1)*g.w:(2*y+2)*g.w]
		if p.Depth == Shades {
			rows[y] = g.shaded(y)
			continue
		}
		rows[y] = style.HalfBlocks(upper, lower)
	}
	return strings.Join(rows, "\n")
}

// grid is the picture at the size of its room.
func (p Picture) grid() grid {
	scale := min(float64(p.Width)/float64(p.W), float64(2*p.Height)/float64(p.H))
	g := grid{w: max(1, int(float64(p.W)*scale)), h: max(2, int(float64(p.H)*scale)/2*2), scale: scale}
	g.pix, g.line = make([][3]uint8, g.w*g.h), make([]rune, g.w*g.h)
	for y := range g.h {
		for x := range g.w {
			g.pix[y*g.w+x] = p.mean(float64(x)/scale, float64(y)/scale, 1/scale)
		}
	}
	return g
}

// mean is the colour of a square of pixels.
func (p Picture) mean(x, y, side float64) (c [3]uint8) {
	var sum [3]int
	n := 0
	for j := int(y); j < max(int(y)+1, int(y+side)) && j < p.H; j++ {
		for i := int(x); i < max(int(x)+1, int(x+side)) && i < p.W; i++ {
			for k, v := range p.Pix[j*p.W+i] {
				sum[k] += int(v)
			}
			n++
		}
	}
	for k := range c {
		c[k] = uint8(sum[k] / max(1, n))
	}
	if p.Depth != Colours {
		c = [3]uint8{c[1], c[1], c[1]}
	}
	return c
}

// draw lays a line over the grid.
func (g grid) draw(l PictureLine) {
	x, y := l.X1*g.scale, l.Y1*g.scale
	dx, dy := l.X2*g.scale-x, l.Y2*g.scale-y
	n := max(1, int(math.Ceil(max(math.Abs(dx), math.Abs(dy)))))
	for i := 0; i <= n; i++ {
		u, colour := float64(i)/float64(n), l.Colour
		if l.Dotted && i%2 == 1 {
			colour = [3]uint8{}
		}
		px, py := int(math.Floor(x+u*dx)), int(math.Floor(y+u*dy))
		if px >= 0 && px < g.w && py >= 0 && py < g.h {
			g.pix[py*g.w+px], g.line[py*g.w+px] = colour, l.sign()
		}
	}
}

// shaded is a row in characters, the more ink the brighter; lines are their signs.
func (g grid) shaded(row int) string {
	var b strings.Builder
	for x := range g.w {
		upper, lower := 2*row*g.w+x, (2*row+1)*g.w+x
		if sign := cmp.Or(min(g.line[upper], g.line[lower]), g.line[upper], g.line[lower]); sign != 0 {
			b.WriteRune(sign) // of two the heavier one, which comes first in ASCII: ! + .
			continue
		}
		shades := []rune(" ░▒█")
		b.WriteRune(shades[(int(g.pix[upper][1])+int(g.pix[lower][1]))*len(shades)/512])
	}
	return style.Value(b.String())
}
