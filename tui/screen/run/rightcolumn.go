package run

// The right half of a wide window: where each sheet is, what is heard next, the baths to come,
// and the temperature's course.

import (
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	plotRows  = 12
	highPlot  = 18 // in the tallest windows
	cueRows   = 7  // heading and the next five, and a blank row
	fewSheets = 3
	inFull    = 68 // columns from which the tables have wet times and hands too
)

// beside is that half, at a moment.
type beside struct{ moment }

// rows are drawn from the top: the sheets, the next cues, and with the room that is left the
// temperature and the baths to come; where there is room for all, these before it.
func (m beside) rows(w, h int) []string {
	if h < fewSheets+2 {
		return nil
	}
	rows := m.sheets(w, max(fewSheets+2, h-cueRows))
	rows = under(rows, m.cues(w), h-len(rows)-1)
	high := plotRows
	if h >= tallest {
		rows = under(rows, m.toCome(w), h-len(rows)-1)
		high = highPlot
	}
	room := min(high, h-len(rows)-1)
	rows = under(rows, strips.Developer{Plan: m.plan, Look: m.look, Events: m.events, Units: m.units}.Course(w, room), room)
	if h >= tallest {
		return rows
	}
	return under(rows, m.toCome(w), h-len(rows)-1)
}

// cues are the next with their times, and what ends their rhythm.
func (m beside) cues(w int) []string {
	t := widget.Table{Columns: []widget.Column{{Title: "at", Right: true}, {Title: "next to be heard"}}, Plain: true, Selected: -1, Width: w}
	for i, c := range m.look.Cues {
		name := safetext.Clean(say.CueAhead(m.plan, c))
		if i+1 == m.look.CuesGoOn {
			name += style.Label(", and so on")
		}
		t.Rows = append(t.Rows, []string{sequence.FormatElapsed(c.At), name})
	}
	return t.Lines()
}

// toCome is the baths that no sheet is in yet: from when to when, by which light, and what the
// hands do there.
func (m beside) toCome(w int) []string {
	t := widget.Table{Columns: []widget.Column{{Title: "then"}, {Title: "from", Right: true}, {Title: "to", Right: true}, {Title: "light"}},
		Plain: true, Selected: -1, Width: w}
	if w >= inFull {
		t.Columns = append(t.Columns, widget.Column{Title: "hands"})
	}
	for i := m.look.Step + 1; i < len(m.plan.Steps); i++ {
		from, to, any := sequence.Elapsed(0), sequence.Elapsed(0), false
		for _, y := range m.look.Passages {
			if y.Step != i || y.In == sequence.Never || y.Out == sequence.Never {
				continue
			}
			if !any || y.In < from {
				from = y.In
			}
			to, any = max(to, y.Out), true
		}
		if !any {
			continue
		}
		st := &m.plan.Steps[i]
		row := []string{safetext.Clean(say.StepName(st.Name)), sequence.FormatElapsed(from), sequence.FormatElapsed(to),
			say.RoomLight(st.RoomLight), safetext.Clean(say.Hands(m.plan, i))}
		t.Rows = append(t.Rows, row[:len(t.Columns)])
	}
	return t.Lines()
}

// sheets is the table of them: a stack from its bottom, a row each; others together.
func (m beside) sheets(w, h int) []string {
	f, title, full := film(m), "film", w >= inFull
	if f.stackStep() >= 0 {
		title = "stack, from the bottom"
	} else if len(m.look.Sheets) > 1 {
		title = "sheets"
	}
	t := widget.Table{Columns: []widget.Column{{Title: title}, {Title: "where"}, {Title: "out at", Right: true}}, Plain: true, Selected: -1, Width: w, Height: h}
	if full {
		t.Columns = append(t.Columns, widget.Column{Title: "wet", Right: true})
	}
	if full && m.look.Wet.Limit != nil {
		t.Columns = append(t.Columns, widget.Column{Title: "of limit", Right: true})
	}
	for _, g := range f.places() {
		name, where := g.name(m.plan), safetext.Clean(g.where)
		if g.late {
			where += ", late"
		}
		if g.late || g.where == "set aside" {
			name, where = style.Title(name), style.Title(where)
		}
		row := []string{name, where, "", g.wet(m.look), g.used(m.look)}
		if g.out != sequence.Never {
			row[2] = sequence.FormatElapsed(g.out)
		}
		t.Rows = append(t.Rows, row[:len(t.Columns)])
	}
	return t.Lines()
}
