package vtest

// Colours: the terminal's own, its palette, and what a pen in them looks like.

import "fmt"

// colour is an entry of the palette, or one of the terminal's own, or direct.
type colour int32

const (
	defaultFG colour = -1
	defaultBG colour = -2
	direct    colour = 1 << 24
)

// colours are the terminal's.
type colours struct {
	fg, bg, cursor RGB
	palette        map[int]RGB
	flipped        bool // the whole screen reversed
}

// seen is what a pen looks like.
func (g *colours) seen(p pen) (fg, bg RGB) {
	fg, bg = g.rgb(p.fg, p.bold), g.rgb(p.bg, false)
	if p.reverse != g.flipped {
		fg, bg = bg, fg
	}
	if p.conceal {
		fg = bg
	}
	return fg, bg
}

func (g *colours) rgb(c colour, bold bool) RGB {
	switch {
	case c == defaultFG:
		return g.fg
	case c == defaultBG:
		return g.bg
	case c >= direct:
		return RGB{uint8(c >> 16), uint8(c >> 8), uint8(c)}
	}
	n := int(c)
	if bold && n < 8 {
		n += 8
	}
	if own, ok := g.palette[n]; ok {
		return own
	}
	return paletteEntry(n)
}

// paletteEntry is an entry of the usual 256: sixteen as the Linux console has them (red
// is not pure there), the 6 x 6 x 6 cube, the greys.
func paletteEntry(n int) RGB {
	switch {
	case n < 16:
		v := func(bit int) uint8 { return uint8(0xaa*(n>>bit&1) + 0x55*(n>>3)) }
		return RGB{v(0), v(1), v(2)}
	case n < 232:
		v := func(i int) uint8 {
			if i == 0 {
				return 0
			}
			return uint8(55 + 40*i)
		}
		n -= 16
		return RGB{v(n / 36), v(n / 6 % 6), v(n % 6)}
	}
	v := uint8(8 + 10*(n-232))
	return RGB{v, v, v}
}

// console obeys ESC ] P n rr gg bb, which nothing ends (console_codes(4)).
func (g *colours) console(seq string) {
	var n int
	var c RGB
	if k, err := fmt.Sscanf(seq, "\x1b]P%1x%02x%02x%02x", &n, &c.R, &c.G, &c.B); k == 4 && err == nil {
		g.palette[n] = c
	}
}

// namedColour reads a colour as rgb:RR/GG/BB.
func namedColour(c *RGB, text string) {
	var n RGB
	if k, err := fmt.Sscanf(text, "rgb:%02x/%02x/%02x", &n.R, &n.G, &n.B); k == 3 && err == nil {
		*c = n
	}
}
