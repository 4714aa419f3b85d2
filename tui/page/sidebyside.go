package page

// Two sessions beside each other, row by row.

import (
	"fmt"
	"strings"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// SideBySide is a table of so many columns; a row in which the two differ has a mark.
func SideBySide(rows []say.ComparedRow, width int) string {
	const most = 14
	column := max(12, (width-most-5)/2)
	b := &strings.Builder{}
	for _, r := range rows {
		left, right, what := widget.Wrap(r.A, column), widget.Wrap(r.B, column), r.Label
		mark := " "
		if r.Differs() {
			mark = "≠"
		}
		n := max(len(left), len(right))
		left, right = append(left, make([]string, n-len(left))...), append(right, make([]string, n-len(right))...)
		for i := range n {
			line := fmt.Sprintf("%-*.*s %s %-*s  %s", most, most, what, mark, column, left[i], right[i])
			fmt.Fprintln(b, strings.TrimRight(line, " "))
			what, mark = "", " "
		}
	}
	return b.String()
}
