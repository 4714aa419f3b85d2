package light

// From a view's text to cells. Colours and line ends are all that is obeyed of it;
// every other control sequence, and whatever would shift the rest of its line, is left out.

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/cellbuf"
)

// picture is a screen of cells. cellbuf writes into it.
type picture struct {
	w, h  int
	cells []cell
}

// read makes cells of a view. Lines that are too long are cut, lines that are not there
// are blank. A control sequence with more parameters than the library has room for makes it
// panic: no view of ours has one, and a view that does is blank rather than the program's end.
func (p *picture) read(view string, w, h int) {
	p.w, p.h = w, h
	p.cells = slices.Grow(p.cells[:0], w*h)[:w*h]
	view = strings.ReplaceAll(view, "\r", "") // which cellbuf would obey
	if !utf8.ValidString(view) {
		view = strings.ToValidUTF8(view, string(mark))
	}
	defer func() {
		if recover() != nil {
			for i := range p.cells {
				p.cells[i] = blank
			}
		}
	}()
	cellbuf.SetContent(p, view)
}

// Bounds is the whole of it, for cellbuf.
func (p *picture) Bounds() cellbuf.Rectangle { return cellbuf.Rect(0, 0, p.w, p.h) }

// Cell is never asked for; cellbuf wants a buffer to have it.
func (p *picture) Cell(int, int) *cellbuf.Cell { return nil }

// SetCell takes what cellbuf found; nil is a blank.
func (p *picture) SetCell(x, y int, c *cellbuf.Cell) bool {
	if x < 0 || y < 0 || x >= p.w || y >= p.h {
		return false
	}
	at := y*p.w + x
	switch {
	case c == nil:
		p.cells[at] = blank
	case c.Width == 1:
		p.cells[at] = drawn(c)
	case c.Width >= 2:
		p.wide(at, min(c.Width, p.w-x), drawn(c))
	default: // what was left over at the end
		return false
	}
	return true
}

// wide sets a character of two columns. Where there is room for one, and for the few that
// are wider still, a mark stands for it.
func (p *picture) wide(at, width int, c cell) {
	if width == 2 && c.r != mark {
		c.width = 2
		p.cells[at] = c
		c.r, c.marks, c.width = 0, "", 0
		p.cells[at+1] = c
		return
	}
	c.r, c.marks, c.width = mark, "", 1
	for i := range width {
		p.cells[at+i] = c
		c.r = ' '
	}
}

// drawn is a cell as it was drawn, one column wide.
func drawn(c *cellbuf.Cell) cell {
	s := cell{width: 1, fg: plainInk, bg: plainBack}
	if c.Style.Fg != nil {
		s.fg = rgbOf(c.Style.Fg)
	}
	if c.Style.Bg != nil {
		s.bg = rgbOf(c.Style.Bg)
	}
	a := c.Style.Attrs
	if a&cellbuf.ReverseAttr != 0 {
		s.fg, s.bg = s.bg, s.fg
	}
	s.bold = a&cellbuf.BoldAttr != 0
	s.under = c.Style.UlStyle != cellbuf.NoUnderline
	s.r = c.Rune
	if c.Rune < ' ' || c.Rune > '~' || len(c.Comb) > 0 {
		s.r, s.marks = character(c)
	}
	if a&cellbuf.ConcealAttr != 0 {
		s.r, s.marks = ' ', ""
	}
	return s.still()
}

// still gives all blanks of one background the same form, so that nothing is written
// again that looks the same.
func (c cell) still() cell {
	if c.space() {
		c.fg, c.bold = c.bg, false
	}
	return c
}

func rgbOf(c ansi.Color) rgb {
	r, g, b, _ := c.RGBA()
	return rgb(r>>8)<<16 | rgb(g>>8)<<8 | rgb(b>>8)
}

// mostMarks is how many marks may stand on one letter.
const mostMarks = 2

// character is what can be seen of a cell's text: a character and what combines with
// it. cellbuf puts sequences that it does not obey before the next character's text.
func character(c *cellbuf.Cell) (r rune, marks string) {
	if len(c.Comb) == 0 && unicode.IsGraphic(c.Rune) && !unicode.Is(unicode.M, c.Rune) {
		return c.Rune, ""
	}
	text := c.String()
	if strings.ContainsFunc(text, unicode.IsControl) {
		text = ansi.Strip(text)
	}
	var on []rune
	for _, v := range text {
		switch {
		case unicode.Is(unicode.Mn, v) && !unicode.Is(unicode.Variation_Selector, v):
			if r != 0 && len(on) < mostMarks {
				on = append(on, v)
			}
		case r == 0 && unicode.IsGraphic(v) && !unicode.Is(unicode.Me, v) && ansi.StringWidth(string(v)) > 0:
			r = v
		}
	}
	if ansi.StringWidth(string(r)) != c.Width {
		return mark, "" // nothing to see, also several characters drawn as one, and one that a selector widens
	}
	return r, string(on)
}
