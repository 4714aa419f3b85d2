package tui

// Lines of text with a level each: drawn one beneath the other, broken where they
// are too long, scrolled where there are too many.

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/wetside/recipes/safetext"
)

// prepLine is one line, or a paragraph. Its indentation is kept where it is broken.
type prepLine struct {
	text string
	l    brightness
}

// lined makes a line of each line of a text.
func lined(s string, l brightness) []prepLine {
	var list []prepLine
	for line := range strings.SplitSeq(s, "\n") {
		list = append(list, prepLine{line, l})
	}
	return list
}

// broken is a line as rows of at most w columns.
func (p prepLine) broken(w int) []prepLine {
	text := safetext.Clean(p.text)
	body := strings.TrimLeft(text, " ")
	in := strings.Repeat(" ", len(text)-len(body))
	if body == "" || utf8.RuneCountInString(text) <= w {
		return []prepLine{{text, p.l}}
	}
	var list []prepLine
	for _, row := range wrapText(body, w-len(in)) {
		list = append(list, prepLine{in + row, p.l})
	}
	return list
}

// broken is all lines as rows of at most w columns.
func broken(lines []prepLine, w int) []prepLine {
	var list []prepLine
	for _, line := range lines {
		list = append(list, line.broken(w)...)
	}
	return list
}

// sections joins lists of lines with a blank line between those that have any.
func sections(lists ...[]prepLine) []prepLine {
	var all []prepLine
	for _, list := range lists {
		if len(all) > 0 && len(list) > 0 {
			all = append(all, prepLine{})
		}
		all = append(all, list...)
	}
	return all
}

// paragraphs draws lines into a rectangle; where they do not all fit the last row
// says how many more there are.
func (g grid) paragraphs(r rect, lines []prepLine) {
	rows := broken(lines, r.w)
	for i, row := range rows {
		if i == r.h-1 && i+1 < len(rows) {
			g.text(r.row(i), fmt.Sprintf("… %d more lines", len(rows)-i), dim)
			return
		}
		if i >= r.h {
			return
		}
		g.text(r.row(i), row.text, row.l)
	}
}

// fitting is the first of several wordings that fits a width; the last where none does.
func fitting(w int, wordings ...string) string {
	for _, s := range wordings {
		if utf8.RuneCountInString(s) <= w {
			return s
		}
	}
	return wordings[len(wordings)-1]
}

// scrolled draws rows from the first on, with arrows where there is more.
func (g grid) scrolled(r rect, rows []prepLine, first int) {
	first = scroll(rows, r.h, first)
	for i := range min(r.h, len(rows)-first) {
		g.text(r.row(i), rows[first+i].text, rows[first+i].l)
	}
	if first > 0 {
		g.right(r.row(0), " ↑", bright)
	}
	if first+r.h < len(rows) {
		g.right(r.row(r.h-1), " ↓", bright)
	}
}

// scroll keeps the first row shown where the last page is still full.
func scroll(rows []prepLine, h, first int) int {
	return max(0, min(first, len(rows)-h))
}

// listed draws the lines of a list that has a cursor: as many as there is room for
// around it. line tells what a line says, and what of it stands at the right.
func (g grid) listed(r rect, lines, at int, line func(int) (name, what string, l brightness)) {
	first := max(0, min(at-r.h/2, lines-r.h))
	for i := first; i < lines && i-first < r.h; i++ {
		name, what, l := line(i)
		row := r.row(i - first)
		if i == at {
			g.set(row.x, row.y, '█', bright)
			l = bright
		}
		const least = 20 // columns of a name; where there are fewer it stands alone
		in := row.beside(2)
		room := in.w - utf8.RuneCountInString(what) - 2
		if room < least {
			room, what = in.w, ""
		}
		g.text(in.narrowed(room), safetext.Clean(name), l)
		g.right(row, safetext.Clean(what), dim)
	}
	if first > 0 {
		g.set(r.x, r.y, '↑', dim)
	}
	if first+r.h < lines {
		g.set(r.x, r.y+r.h-1, '↓', dim)
	}
}
