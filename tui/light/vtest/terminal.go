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

// Terminal is one terminal.
type Terminal struct {
	Behaviour Behaviour
	Reply     []byte // what the terminal answered
	KeyFlags  int    // what of keys it was asked to tell

	glass
	colours

	Bells int
	scan  scanner
}

// New is a terminal of w x h cells, black on white, with a white cursor.
func New(w, h int, k Behaviour) *Terminal {
	g := &Terminal{Behaviour: k, glass: glass{w: w, h: h}}
	g.reset()
	return g
}

// reset is what ESC c does. What OSC changed stays.
func (g *Terminal) reset() {
	if g.palette == nil {
		g.colours = colours{fg: blackRGB, bg: whiteRGB, cursor: whiteRGB, palette: map[int]RGB{}}
	}
	g.flipped = false
	g.glass = newGlass(g.w, g.h, g.Behaviour.ErasesWithPen)
}

// Resize changes the size. What is new has the terminal's own background.
func (g *Terminal) Resize(w, h int) { g.glass = g.glass.resized(w, h) }

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

// Seen is a cell as the eye gets it.
type Seen struct {
	X, Y       int
	Rune       rune
	Fg, Bg     RGB
	Underlined bool
}

// Cells are all of them, row after row.
func (g *Terminal) Cells() []Seen {
	list := make([]Seen, len(g.cells))
	for i, c := range g.cells {
		fg, bg := g.seen(c.pen)
		list[i] = Seen{i % g.w, i / g.w, c.r, fg, bg, c.pen.underline}
	}
	return list
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
		fg, bg := g.seen(c.pen)
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
