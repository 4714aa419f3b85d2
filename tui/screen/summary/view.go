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
	head = widget.Painted(safetext.Clean(m.outcome), w, style.Title)
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
	rows := append(append(m.difference(w), ""), widget.Painted(m.next(), w, style.Value)...)
	if m.learnt != nil {
		learnt := safetext.Clean(say.Learnt(m.learnt, m.env.Units()))
		rows = append(append(rows, ""), widget.Painted(learnt, w, style.Value)...)
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
	return append(append(rows, ""), widget.Painted(record, w, paint)...)
}

// happened is what is told of the record, line by line.
func (m Model) happened(w int, moves bool) (rows []string) {
	for _, e := range m.events {
		if line := say.EventLine(m.session.Plan(), e, m.env.Units()); line != "" && (say.Afterwards(e) || moves && say.Moves(e)) {
			const times = 10 // columns; the line goes on behind them
			line = safetext.Clean(line)
			what := widget.Painted(line[times:], w-times, style.Value)
			rows = append(rows, widget.Hanging(style.Value(line[:times]), times, what, w)...)
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
	return t.Lines()
}
