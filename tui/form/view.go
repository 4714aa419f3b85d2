package form

// How a form is drawn.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
	"github.com/charmbracelet/x/ansi"
)

// widestLabel is how many columns the labels take, and the most that they may.
func (f Form) widestLabel(width int) (n int) {
	for _, x := range f.Fields {
		if !x.Do {
			n = max(n, widget.Width(x.Label))
		}
	}
	return min(n, max(6, width*2/5))
}

// Rows is the fields, one row each, the one under the cursor filled across the width.
func (f Form) Rows(width int) (rows []string) {
	const mark = 2
	label := f.widestLabel(width - mark)
	for i, x := range f.Fields {
		row := style.Value(x.Label)
		if !x.Do {
			row = widget.Field(x.Label, f.value(i, width-mark-label-2), label, width-mark)
		}
		if row = widget.Truncate("  "+row, width); i == f.At {
			row = widget.Chosen(row, width)
		}
		rows = append(rows, row)
	}
	return rows
}

// value is what stands behind a label.
func (f Form) value(i, room int) string {
	x := f.Fields[i]
	fault := ""
	if x.Fault != "" {
		fault = "   " + style.Danger.Render(safetext.Clean(x.Fault))
	}
	switch {
	case i == f.At && f.Typing():
		return f.prompt().Faulted(x.Fault).View(room)
	case len(x.Choices) > 0:
		v := x.Value()
		if v == "" {
			return style.Label(x.Usual) + fault
		}
		if i == f.At {
			return style.Label("‹ ") + style.Value(safetext.Clean(v)) + style.Label(" ›") + fault
		}
		return style.Value(safetext.Clean(v)) + fault
	case x.Text == "":
		return style.Label(x.Usual) + fault
	case x.Unit != "":
		return style.Value(safetext.Clean(x.Text)) + " " + style.Label(x.Unit) + fault
	}
	return style.Value(safetext.Clean(x.Text)) + fault
}

// Means is what the field under the cursor is for, and in full what is wrong with it where
// there was no room for that beside it.
func (f Form) Means(width int) (rows []string) {
	x := f.Fields[f.At]
	if beside := ansi.Strip(f.Rows(width)[f.At]); x.Fault != "" && !strings.Contains(beside, safetext.Clean(x.Fault)) {
		rows = widget.Painted(x.Fault, width, func(s string) string { return style.Strong.Bold(false).Render(s) })
	}
	if x.Means == "" {
		return rows
	}
	return append(rows, widget.Painted(x.Means, width, style.Label)...)
}

// View draws the fields in so many rows at most, those around the cursor where not all fit,
// and beneath them what the one under the cursor means.
func (f Form) View(width, height int) string {
	rows, means := f.Rows(width), f.Means(width)
	if room := height - len(rows) - 1; room < len(means) {
		means = means[:max(0, room)]
	}
	if len(rows) > height {
		s := widget.Scroll{Text: strings.Join(f.Rows(width-2), "\n"), Width: width, Height: height}
		return s.Shows(min(f.At+1, len(rows)-1)).Shows(f.At).View()
	}
	if len(means) > 0 {
		rows = append(append(rows, ""), means...)
	}
	return strings.Join(rows, "\n")
}
