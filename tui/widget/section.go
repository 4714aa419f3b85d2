package widget

// A section of a film's page as rows, for screen and paper: its table, or its lines.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
)

// hangingIndent is how far the rows of a broken line stand in.
const hangingIndent = 2

// SectionRows is a section without its title and without colours, in rows of so many columns. Where the table's columns
// have names they are the first row.
func SectionRows(s say.Section, width int) (rows []string) {
	switch {
	case len(s.Columns) > 0:
		t := Table{Width: width, Selected: -1, Plain: true, Rows: [][]string{s.Columns}}
		for i := range s.Columns {
			t.Columns = append(t.Columns, Column{Right: i > 0})
		}
		for _, r := range s.Rows {
			t.Rows = append(t.Rows, cleaned(r))
		}
		rows = strings.Split(t.View(), "\n")
	default:
		for _, r := range s.Rows {
			r = cleaned(r)
			label := r[0] + "  "
			rows = append(rows, hanging(label, r[1], Width(label), width)...)
		}
	}
	for _, line := range s.Lines {
		rows = append(rows, hanging("", safetext.Clean(line), hangingIndent, width)...)
	}
	return rows
}

// hanging breaks a text behind a label, its further rows so many columns in.
func hanging(label, text string, in, width int) []string {
	var rows []string
	for i, row := range Wrap(text, max(1, width-in)) {
		if i > 0 {
			label = blanks(in)
		}
		rows = append(rows, Truncate(label+row, width))
	}
	return rows
}

func cleaned(cells []string) (list []string) {
	for _, c := range cells {
		list = append(list, safetext.Clean(c))
	}
	return list
}
