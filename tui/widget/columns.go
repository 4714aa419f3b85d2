package widget

// Two columns beside each other, or one beneath the other where it is narrow.

import (
	"strings"

	"example.org/wetside/tui/style"
)

// Columns divides a width into two columns, or puts what belongs in them beneath each other
// where there is no room for both.
type Columns struct {
	Width int
	Left  int  // columns of the left one; 0 for half
	Least int  // what the right one needs; below it both stand beneath each other
	Ruled bool // a thin rule between them, where two kinds of thing meet
}

const columnGap = 4

// Widths are the columns' widths, and whether they stand beside each other.
func (c Columns) Widths() (left, right int, beside bool) {
	left = c.Left
	if left == 0 {
		left = (c.Width - columnGap) / 2
	}
	if right = c.Width - columnGap - left; right < max(1, c.Least) || left < 1 {
		return c.Width, c.Width, false
	}
	return left, right, true
}

// Join puts two texts, drawn for Widths, together.
func (c Columns) Join(left, right string) string {
	lw, rw, beside := c.Widths()
	l, r := cutRows(left, lw), cutRows(right, rw)
	if !beside {
		return strings.Join(append(append(l, ""), r...), "\n")
	}
	gap := blanks(columnGap)
	if c.Ruled {
		gap = blanks(columnGap/2-1) + style.Rule.Render("│") + blanks(columnGap/2)
	}
	n := max(len(l), len(r))
	l, r = append(l, make([]string, n-len(l))...), append(r, make([]string, n-len(r))...)
	for i := range l {
		if r[i] != "" || c.Ruled {
			l[i] = Pad(l[i], lw) + gap + r[i]
		}
	}
	return strings.Join(l, "\n")
}

func cutRows(s string, width int) []string {
	rows := strings.Split(s, "\n")
	for i := range rows {
		rows[i] = Truncate(rows[i], width)
	}
	return rows
}
