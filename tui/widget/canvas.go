package widget

// A canvas: cells that a component draws on where rows of text will not do.

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// spot is one cell of a canvas.
type spot struct {
	text string // "" in the second half of a wide character
	ink  *lipgloss.Style
}

type canvas struct {
	w, h  int
	spots []spot
}

func newCanvas(w, h int) canvas {
	c := canvas{w, h, make([]spot, max(0, w*h))}
	for i := range c.spots {
		c.spots[i].text = " "
	}
	return c
}

// set draws one character, one column wide.
func (c canvas) set(x, y int, r rune, ink *lipgloss.Style) {
	if x >= 0 && x < c.w && y >= 0 && y < c.h {
		c.spots[y*c.w+x] = spot{string(r), ink}
	}
}

// text writes a row, cut with a mark at the right end.
func (c canvas) text(x, y int, s string, ink *lipgloss.Style) {
	if y < 0 || y >= c.h || x < 0 {
		return
	}
	for _, r := range Truncate(s, c.w-x) {
		w := ansi.StringWidth(string(r))
		if w == 0 { // it combines with the character before it
			if x > 0 && x <= c.w && unicode.Is(unicode.Mn, r) {
				c.spots[y*c.w+x-1].text += string(r)
			}
			continue
		}
		c.set(x, y, r, ink)
		for i := 1; i < w && x+i < c.w; i++ {
			c.spots[y*c.w+x+i] = spot{"", ink}
		}
		x += w
	}
}

// free tells whether nothing is drawn from one column up to another.
func (c canvas) free(x, to, y int) bool {
	if y < 0 || y >= c.h {
		return false
	}
	for ; x < to; x++ {
		if x >= 0 && x < c.w && c.spots[y*c.w+x].text != " " {
			return false
		}
	}
	return true
}

// View is the rows, without blanks at their ends.
func (c canvas) View() string {
	var b strings.Builder
	for y := range c.h {
		if y > 0 {
			b.WriteByte('\n')
		}
		row := c.spots[y*c.w : (y+1)*c.w]
		for len(row) > 0 && row[len(row)-1].text == " " {
			row = row[:len(row)-1]
		}
		c.runs(&b, row)
	}
	return b.String()
}

// runs writes cells of one ink together.
func (c canvas) runs(b *strings.Builder, row []spot) {
	for len(row) > 0 {
		n, ink := 0, row[0].ink
		var text strings.Builder
		for n < len(row) && (row[n].ink == ink || row[n].text == " ") {
			text.WriteString(row[n].text)
			n++
		}
		row = row[n:]
		if ink == nil {
			b.WriteString(text.String())
			continue
		}
		s := text.String()
		words := strings.TrimRight(s, " ")
		b.WriteString(ink.Render(words) + s[len(words):])
	}
}
