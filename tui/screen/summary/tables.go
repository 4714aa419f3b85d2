package summary

// All of it in two tables: what each sheet came to, and when each step was.

import (
	"fmt"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// plotRows is how high the developer's temperature is drawn beneath them.
const plotRows = 14

// tables are both, the sheets first, and the developer's temperature where it was read or drifted.
func (m Model) tables(w int) []string {
	rows := append(append(m.sheets(w), ""), m.steps(w)...)
	d := strips.Developer{Plan: m.session.Plan(), Look: m.look, Events: m.events, Units: m.env.Units()}
	if plot := d.Course(w, plotRows); plot != nil {
		rows = append(append(rows, ""), plot...)
	}
	return rows
}

// sheets are each sheet's development as planned and as it was, and its wet time.
func (m Model) sheets(w int) []string {
	p := m.session.Plan()
	t := widget.Table{Plain: true, Selected: -1, Width: w, Columns: []widget.Column{{Title: style.Heading("Sheets")}, {Title: "planned", Right: true},
		{Title: "developed", Right: true}, {Title: "of plan", Right: true}, {Title: "wet", Right: true}, {Title: "of limit", Right: true}}}
	for k, s := range m.look.Sheets {
		row := []string{safetext.Clean(p.Recipe.Load.SheetName(k + 1)), "", "", "", sequence.FormatElapsed(s.Wet.Round(time.Second)), ""}
		for _, d := range m.done {
			if d.Sheet == k+1 && d.Of > 0 && row[1] == "" {
				row[1], row[2], row[3] = sequence.FormatElapsed(d.Of), sequence.FormatElapsed(d.Done), say.Percent(d.Share())
				if d.Uncertain {
					row[3] = "about " + row[3]
				}
			}
		}
		switch {
		case s.Aside:
			row[5] = "set aside"
		case s.Used > 1:
			row[5] = style.Danger.Render("over " + say.Share(s.Used))
		case s.Used > 0:
			row[5] = say.Share(s.Used)
		}
		t.Rows = append(t.Rows, row)
	}
	if len(p.Recipe.Load.Names) == 0 {
		t.Rows = widget.Alike(t.Rows, func(places []int) string {
			return fmt.Sprintf("sheets %d–%d", places[0]+1, places[len(places)-1]+1)
		})
	}
	return strings.Split(t.View(), "\n")
}

// steps are when each began and how long it was, in all sheets together.
func (m Model) steps(w int) []string {
	p := m.session.Plan()
	t := widget.Table{Plain: true, Selected: -1, Width: w, Columns: []widget.Column{{Title: style.Heading("Steps")}, {Title: "planned at", Right: true},
		{Title: "began", Right: true}, {Title: "ended", Right: true}}}
	for i := range p.Steps {
		planned, _, _ := within(p.Passages, i, sequence.Never)
		from, to, any := within(m.look.Passages, i, m.look.End)
		row := []string{safetext.Clean(say.StepName(p.Steps[i].Name)), sequence.FormatElapsed(planned), "not begun", ""}
		if any {
			row[2], row[3] = sequence.FormatElapsed(from), sequence.FormatElapsed(to)
		}
		t.Rows = append(t.Rows, row)
	}
	return strings.Split(t.View(), "\n")
}

// within is from when to when sheets were in a step, until a session's end; false where none was.
func within(list []sequence.Passage, step int, end sequence.Elapsed) (from, to sequence.Elapsed, any bool) {
	for _, y := range list {
		if y.Step != step || y.In == sequence.Never || y.In > end {
			continue
		}
		if !any || y.In < from {
			from = y.In
		}
		to, any = max(to, min(y.Out, end)), true
	}
	return from, to, any
}
