package summary

// The picture: the result, the strip, and beneath them what is to be read; in a wide window the
// sheets and the steps beside it, in a high one under it.

import (
	"path/filepath"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	wide   = 112 // columns from which the tables stand at the right
	high   = 26  // rows from which they stand beneath, where it is not wide
	tabled = 60  // columns that they need
	higher = 44  // rows from which each move of film is told too
)

// View draws the body.
func (m Model) View(w, h int) string {
	head := m.head(w, h)
	if len(head) >= h {
		return strings.Join(head[:max(0, h)], "\n")
	}
	return strings.Join(append(head, strings.Split(m.scroll(w, h).View(), "\n")...), "\n")
}

// head is the result in a line, and the strip where there is room for it.
func (m Model) head(w, h int) (head []string) {
	for _, r := range widget.Wrap(safetext.Clean(m.outcome), w) {
		head = append(head, style.Title(r))
	}
	if h >= 16 {
		head = append(head, "")
		strip := widget.Strip{Timeline: strips.Running(m.session.Plan(), m.look), Width: w, Rows: widget.StripRows}
		head = append(append(head, strings.Split(strip.View(), "\n")...), "")
	}
	return head
}

// scroll is what is to be read, in the window that the head leaves.
func (m Model) scroll(w, h int) widget.Scroll {
	s := widget.Scroll{Width: w, Height: max(0, h-len(m.head(w, h))), First: m.first}
	inner := s.Inner()
	switch c := (widget.Columns{Width: inner, Left: inner * 9 / 20}); {
	case w >= wide:
		lw, rw, _ := c.Widths()
		s.Text = c.Join(strings.Join(m.rows(lw, h >= higher), "\n"), strings.Join(m.tables(rw), "\n"))
	case h >= high && w >= tabled:
		s.Text = strings.Join(append(append(m.rows(inner, false), ""), m.tables(inner)...), "\n")
	default:
		s.Text = strings.Join(m.rows(inner, false), "\n")
	}
	return s.Moved(0)
}

// rows are what differed, what to do next, what happened and where the record lies: in a high
// window all moves of film too.
func (m Model) rows(w int, moves bool) []string {
	rows := m.difference(w)
	rows = append(rows, "")
	for _, r := range widget.Wrap(m.next(), w) {
		rows = append(rows, style.Value(r))
	}
	if m.learnt != nil {
		rows = append(rows, "")
		for _, r := range widget.Wrap(safetext.Clean(say.Learnt(m.learnt, m.env.Units())), w) {
			rows = append(rows, style.Value(r))
		}
	}
	rows = append(rows, m.happened(w, moves)...)
	record := "kept in " + safetext.Clean(m.session.Record())
	if widget.Width(record) > w { // broken where neither part is harder to copy
		folder, name := filepath.Split(record)
		record = folder + "\n" + name
	}
	paint := style.Label
	if why := m.session.UnsavedBecause(); why != "" {
		record, paint = safetext.Clean(why), style.Title
	}
	rows = append(rows, "")
	for _, r := range widget.Wrap(record, w) {
		rows = append(rows, paint(r))
	}
	return rows
}

// happened is what is told of the record, line by line.
func (m Model) happened(w int, moves bool) (rows []string) {
	for _, e := range m.events {
		if line := say.EventLine(m.session.Plan(), e, m.env.Units()); line != "" && (say.Afterwards(e) || moves && say.Moves(e)) {
			rows = append(rows, toldRows(safetext.Clean(line), w)...)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return append([]string{"", style.Heading("What happened")}, rows...)
}

func (m Model) difference(w int) []string {
	t := widget.Table{Plain: true, Selected: -1, Width: w, Columns: []widget.Column{{Title: "differed from plan"},
		{Title: "planned", Right: true}, {Title: "actual", Right: true}, {Title: "change", Right: true}}}
	for _, d := range m.differs {
		t.Rows = append(t.Rows, []string{safetext.Clean(d.What), d.Planned, d.Actual, d.Change})
	}
	if len(t.Rows) == 0 {
		return []string{style.Done.Render(widget.Truncate("All of it went as planned.", w))}
	}
	return strings.Split(t.View(), "\n")
}

// toldRows is a line behind its time, which goes on beneath itself where it is long.
func toldRows(line string, w int) (rows []string) {
	const times = 10
	at, what := line[:times], line[times:]
	for _, r := range widget.Wrap(what, max(1, w-times)) {
		rows = append(rows, style.Value(widget.Truncate(at+r, w)))
		at = strings.Repeat(" ", times)
	}
	return rows
}
