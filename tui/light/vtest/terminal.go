// Package vtest is the front of a terminal, for tests: what a screenful of bytes
// looks like to film.
//
// Its defaults are black on white, the worst case. It understands more than the
// program writes and believes everything: 8-bit controls, scrolling, resets,
// reverse video, inserted lines. Start with New; write to it; ask LitCell and NonRedCell.
// It is not the program's parser turned round: where the two share a mistake,
// tests with tmux and xterm stand beside it.
package vtest

import "fmt"

// RGB is a colour as the eye gets it.
type RGB struct{ R, G, B uint8 }

var (
	blackRGB = RGB{}
	whiteRGB = RGB{255, 255, 255}
)

// Kinds of terminal: what it does that others do not.
type Behaviour struct {
	ErasesWithPen bool // erased cells take the pen's background; else the terminal's own
	SetsColours   bool // OSC 4, 10, 11 and 12 change colours
	Answers       bool // says so when asked
	Mute          bool // answers nothing at all
	TellsKeys     bool // the keyboard protocol that tells presses, repeats and releases apart
	Console       bool // the Linux console, whose palette is set by ESC ] P
}

// colour is an entry of the palette, or one of the terminal's own, or direct.
type colour int32

const (
	defaultFG colour = -1
	defaultBG colour = -2
	direct    colour = 1 << 24
)

// pen is how the next character is written.
type pen struct {
	fg, bg                   colour
	bold, reverse, underline bool
	conceal                  bool
}

type cell struct {
	r   rune
	pen pen
}

// Terminal is one terminal.
type Terminal struct {
	Behaviour Behaviour
	Reply     []byte // what the terminal answered
	KeyFlags  int    // what of keys it was asked to tell

	w, h          int
	cells, hidden []cell // what is seen, and the screen behind it
	alternate     bool
	x, y          int
	saved         struct {
		x, y int
		pen  pen
	}
	pen              pen
	top, bottom      int // scrolling region, rows
	wrapNext         bool
	wraps, shown     bool
	inserts, flipped bool // insert mode; the whole screen reversed
	last             rune

	fg, bg, cursor RGB
	palette        map[int]RGB

	Bells int
	scan  scanner
}

// New is a terminal of w x h cells, black on white, with a white cursor.
func New(w, h int, k Behaviour) *Terminal {
	g := &Terminal{Behaviour: k, w: w, h: h}
	g.reset()
	return g
}

// reset is what ESC c does. What OSC changed stays.
func (g *Terminal) reset() {
	if g.palette == nil {
		g.fg, g.bg, g.cursor, g.palette = blackRGB, whiteRGB, whiteRGB, map[int]RGB{}
	}
	g.pen = pen{fg: defaultFG, bg: defaultBG}
	g.cells, g.hidden = g.blankCells(g.w*g.h), g.blankCells(g.w*g.h)
	g.x, g.y, g.top, g.bottom = 0, 0, 0, g.h-1
	g.alternate, g.wraps, g.shown, g.inserts, g.flipped, g.wrapNext = false, true, true, false, false, false
	g.saved.pen = g.pen
}

// blankCells is n cells that nobody has written.
func (g *Terminal) blankCells(n int) []cell {
	list := make([]cell, n)
	for i := range list {
		list[i] = cell{' ', pen{fg: defaultFG, bg: defaultBG}}
	}
	return list
}

// Resize changes the size. What is new has the terminal's own background.
func (g *Terminal) Resize(w, h int) {
	fit := func(old []cell) []cell {
		cells := g.blankCells(w * h)
		for y := range min(h, g.h) {
			copy(cells[y*w:y*w+min(w, g.w)], old[y*g.w:])
		}
		return cells
	}
	g.cells, g.hidden = fit(g.cells), fit(g.hidden)
	g.w, g.h, g.top, g.bottom = w, h, 0, h-1
	g.x, g.y, g.wrapNext = min(g.x, w-1), min(g.y, h-1), false
}

// Size is the number of columns and rows.
func (g *Terminal) Size() (w, h int) { return g.w, g.h }

// Alternate tells whether the alternate screen is shown.
func (g *Terminal) Alternate() bool { return g.alternate }

// CursorShown tells whether there is a cursor.
func (g *Terminal) CursorShown() bool { return g.shown }

// DefaultColours are the terminal's own colours as they are now.
func (g *Terminal) DefaultColours() (fg, bg RGB) { return g.fg, g.bg }

// Text is row y.
func (g *Terminal) Text(y int) string {
	line := make([]rune, g.w)
	for x := range line {
		line[x] = g.cells[y*g.w+x].r
	}
	return string(line)
}

// LitCell finds a cell that gives light, and says which; "" where all is black.
func (g *Terminal) LitCell() string {
	return g.find(func(c RGB) bool { return c != blackRGB })
}

// NonRedCell finds a cell with green or blue in it; "" where all is red or black.
func (g *Terminal) NonRedCell() string {
	return g.find(func(c RGB) bool { return c.G != 0 || c.B != 0 })
}

// BrighterThan finds a cell with more red in it than that; "" where none has.
func (g *Terminal) BrighterThan(most uint8) string {
	return g.find(func(c RGB) bool { return c.R > most })
}

func (g *Terminal) find(bad func(RGB) bool) string {
	for i, c := range g.cells {
		fg, bg := g.colours(c.pen)
		if bad(bg) || (c.r != ' ' || c.pen.underline) && bad(fg) {
			return fmt.Sprintf("cell %d,%d of %dx%d: %q in %v on %v", i%g.w, i/g.w, g.w, g.h, c.r, fg, bg)
		}
	}
	if g.shown && bad(g.cursor) {
		return fmt.Sprintf("cursor in %v", g.cursor)
	}
	if bad(g.bg) && g.Behaviour.SetsColours {
		return fmt.Sprintf("border in %v", g.bg)
	}
	return ""
}

// colours is what a pen looks like.
func (g *Terminal) colours(p pen) (fg, bg RGB) {
	fg, bg = g.rgb(p.fg, p.bold), g.rgb(p.bg, false)
	if p.reverse != g.flipped {
		fg, bg = bg, fg
	}
	if p.conceal {
		fg = bg
	}
	return fg, bg
}

func (g *Terminal) rgb(c colour, bold bool) RGB {
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
