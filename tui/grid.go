package tui

// The grid: every cell of the screen, and nothing between the cells. The level
// is the only colour; each run of one level is written with one full SGR, and
// no line ends in the terminal's own colours.

import (
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/lipgloss"
)

// cell is one character and how bright it is.
type cell struct {
	r rune
	l brightness
}

// grid is a screen of w x h cells.
type grid struct {
	w, h  int
	cells []cell
}

func newGrid(w, h int) grid {
	g := grid{w: w, h: h, cells: make([]cell, max(0, w*h))}
	for i := range g.cells {
		g.cells[i] = cell{' ', black}
	}
	return g
}

// rect is a part of the grid: columns x to x+w, rows y to y+h.
type rect struct{ x, y, w, h int }

// row is one row of a rectangle, as a rectangle.
func (r rect) row(i int) rect { return rect{r.x, r.y + i, r.w, 1} }

// from is what is left of a rectangle below its first n rows.
func (r rect) from(n int) rect { return rect{r.x, r.y + n, r.w, max(0, r.h-n)} }

// set writes one cell; outside the grid nothing happens.
func (g grid) set(x, y int, r rune, l brightness) {
	if x >= 0 && x < g.w && y >= 0 && y < g.h {
		g.cells[y*g.w+x] = cell{r, l}
	}
}

// text writes into the first row of a rectangle, cut with a mark where it is
// too long, and returns the column after it.
func (g grid) text(r rect, s string, l brightness) int {
	if r.w <= 0 || r.h <= 0 {
		return r.x
	}
	x := r.x
	for _, c := range cut(s, r.w) {
		g.set(x, r.y, singleWidth(c), l)
		x++
	}
	return x
}

// singleWidth is a rune that takes one column. Control characters, combining marks and
// letters two columns wide would shift the rest of their line, or worse.
func singleWidth(r rune) rune {
	if r >= ' ' && r < 0x7f || r > 0x7f && lipgloss.Width(string(r)) == 1 {
		return r
	}
	return utf8.RuneError
}

// right writes a text that ends at the rectangle's right edge.
func (g grid) right(r rect, s string, l brightness) {
	if r.w <= 0 || r.h <= 0 {
		return
	}
	s = cut(s, r.w)
	n := utf8.RuneCountInString(s)
	g.text(rect{r.x + r.w - n, r.y, n, r.h}, s, l)
}

// wrap writes a text over the rows of a rectangle and returns how many it took.
// What does not fit ends in a mark.
func (g grid) wrap(r rect, s string, l brightness) int {
	lines := wrapText(s, r.w)
	for i, line := range lines {
		if i == r.h-1 && i+1 < len(lines) {
			line = cut(line+"…", r.w)
		}
		if i >= r.h {
			return max(0, r.h)
		}
		g.text(r.row(i), line, l)
	}
	return len(lines)
}

// render writes the grid as exactly h lines of w cells.
func (g grid) render(p palette) string {
	var b strings.Builder
	b.Grow(len(g.cells) + g.h*32)
	for y := range g.h {
		if y > 0 {
			b.WriteByte('\n')
		}
		now := brightness(255)
		for _, c := range g.cells[y*g.w : (y+1)*g.w] {
			if c.l != now && (c.r != ' ' || now == 255) {
				now = c.l
				b.WriteString(p[now])
			}
			b.WriteRune(c.r)
		}
		b.WriteString(p[black])
	}
	return b.String()
}

// cut shortens a text to n columns, the last of them a mark.
func cut(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	r := []rune(s)
	return string(r[:max(0, n-1)]) + "…"
}

// wrapText breaks a text into lines of at most n columns; a word that is longer is
// broken too.
func wrapText(s string, n int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range strings.Fields(s) {
		w := utf8.RuneCountInString(word)
		if used > 0 && used+1+w > n {
			lines, line, used = append(lines, line), "", 0
		}
		for ; w > n && n > 0; w -= n {
			r := []rune(word)
			lines, word = append(lines, string(r[:n])), string(r[n:])
		}
		if used > 0 {
			line, used = line+" ", used+1
		}
		line, used = line+word, used+w
	}
	if used > 0 {
		lines = append(lines, line)
	}
	return lines
}
