package widget

// Large letters: numerals and capitals five dots wide and seven high, two dots to a cell in
// half blocks, at any whole scale. Full and half blocks and the space are one column wide
// everywhere.

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
)

const (
	glyphHeight = 7
	otherWidth  = 5 // of a character that has no glyph; it is left blank
)

// BigDigits is a text in the largest letters for which there is room: a time, or a word.
type BigDigits struct {
	Text          string
	Width, Height int
	Most          int // the largest scale; 0 for any
	Ink           lipgloss.Style
}

// Scale is how many columns a dot takes; 0 where there is no room for any.
func (d BigDigits) Scale() int {
	scale := 0
	for d.Most == 0 || scale < d.Most {
		w, h := size(d.Text, scale+1)
		if w > d.Width || h > d.Height || w <= 0 {
			break
		}
		scale++
	}
	return scale
}

// size is how many columns and rows a text takes at a scale.
func size(s string, scale int) (w, h int) {
	for _, r := range strings.ToUpper(s) {
		w += glyphWidth(r) + 1
	}
	return max(0, w-1) * scale, (glyphHeight*scale + 1) / 2
}

func glyphWidth(r rune) int {
	if g, ok := glyphs[r]; ok {
		return len(g[0])
	}
	return otherWidth
}

// View draws it; in ordinary letters, cut, where there is no room for large ones.
func (d BigDigits) View() string {
	scale := d.Scale()
	if scale == 0 {
		if d.Height <= 0 {
			return ""
		}
		return d.Ink.Bold(true).Render(Truncate(d.Text, d.Width))
	}
	w, h := size(d.Text, scale)
	c := newCanvas(w, h)
	x := 0
	for _, r := range strings.ToUpper(d.Text) {
		if g, ok := glyphs[r]; ok {
			d.glyph(c, x, g, scale)
		}
		x += (glyphWidth(r) + 1) * scale
	}
	return c.View()
}

func (d BigDigits) glyph(c canvas, x int, g [glyphHeight]string, scale int) {
	dot := func(col, row int) bool {
		row /= scale
		return row < glyphHeight && g[row][col/scale] == '#'
	}
	for y := range c.h {
		for col := range len(g[0]) * scale {
			switch upper, lower := dot(col, 2*y), dot(col, 2*y+1); {
			case upper && lower:
				c.set(x+col, y, '█', &d.Ink)
			case upper:
				c.set(x+col, y, '▀', &d.Ink)
			case lower:
				c.set(x+col, y, '▄', &d.Ink)
			}
		}
	}
}
