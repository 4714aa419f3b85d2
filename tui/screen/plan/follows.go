package plan

// What follows from the conditions: steps, what small errors do, ways to shorten the wet time.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// section is rows under a heading, and which of them the cursor is on; -1 for none.
type section struct {
	rows []string
	at   int
}

// follows is all of it beneath each other: what is over the limit comes first.
func (m Model) follows(w int) ([]string, int) {
	if m.fault.text != "" {
		return nil, -1
	}
	list := []section{m.cautions(w, sequence.Danger)}
	if say.OverLimit(m.plan) {
		list = append(list, m.waysRows(w), m.cautions(w, sequence.Care), section{m.steps(w), -1})
	} else {
		list = append(list, section{m.steps(w), -1}, m.cautions(w, sequence.Care), m.waysRows(w))
	}
	return joined(append(list, m.notes(w)...))
}

// besides is what follows without the steps.
func (m Model) besides(w int) ([]string, int) {
	if m.fault.text != "" {
		return nil, -1
	}
	return joined(append([]section{m.cautions(w, sequence.Danger), m.waysRows(w), m.cautions(w, sequence.Care)}, m.notes(w)...))
}

// joined is sections with a blank row between them; those that are empty are left out.
func joined(list []section) (rows []string, at int) {
	at = -1
	for _, s := range list {
		if len(s.rows) == 0 {
			continue
		}
		if len(rows) > 0 {
			rows = append(rows, "")
		}
		if s.at >= 0 {
			at = len(rows) + s.at
		}
		rows = append(rows, s.rows...)
	}
	return rows, at
}

// tableFrom is the width from which what the hands do has a column of its own.
const tableFrom = 62

// steps is the table of steps and the error budget; where it is narrow what the hands do
// stands beneath each step.
func (m Model) steps(w int) []string {
	if m.fault.text != "" {
		return nil
	}
	rows := []string{style.Heading("Steps")}
	if w >= tableFrom {
		rows = append(rows, strings.Split(widget.PlanSteps(m.plan, w).View(), "\n")...)
	} else {
		rows = append(rows, m.narrowSteps(w)...)
	}
	return append(rows, m.budget(w)...)
}

func (m Model) narrowSteps(w int) (rows []string) {
	const clock, gaps = 7, 3
	longest, light := 0, widget.Width("light")
	for i := range m.plan.Steps {
		st := &m.plan.Steps[i]
		longest, light = max(longest, widget.Width(safetext.Clean(say.StepName(st.Name)))), max(light, widget.Width(say.RoomLight(st.RoomLight)))
	}
	name := min(longest, max(6, w-2*clock-light-gaps))
	head := widget.Pad("", name) + " " + widget.PadLeft("start", clock) + " " + widget.PadLeft("time", clock) + " " + widget.Pad("light", light)
	rows = append(rows, style.Label(widget.Truncate(head, w)))
	for i := range m.plan.Steps {
		st := &m.plan.Steps[i]
		row := widget.Pad(safetext.Clean(say.StepName(st.Name)), name) + " " + widget.PadLeft(sequence.FormatElapsed(st.Start), clock) + " " +
			widget.PadLeft(sequence.FormatElapsed(st.Given), clock) + " " + say.RoomLight(st.RoomLight)
		rows = append(rows, style.Value(widget.Truncate(row, w)))
		for _, r := range widget.Painted(say.Hands(m.plan, i), w-2, style.Label) {
			rows = append(rows, "  "+r)
		}
	}
	return rows
}

// budget is what small errors do to each developing step.
func (m Model) budget(w int) (rows []string) {
	all := planning.ErrorBudgets(m.plan)
	for _, e := range all {
		head := "Error budget"
		if len(all) > 1 {
			head += ", " + safetext.Clean(say.StepName(e.Step))
		}
		row := style.Heading(head)
		for _, s := range say.ErrorBudget(e, m.conditions.Units) {
			paint := style.Value
			if s.Error == "together" {
				paint = style.Heading
			}
			part := style.Label(s.Error) + " " + paint(s.Percent)
			if widget.Width(row)+3+widget.Width(part) > w {
				rows, row = append(rows, widget.Truncate(row, w)), "  "+part
				continue
			}
			row += "   " + part
		}
		rows = append(rows, widget.Truncate(row, w))
	}
	if len(rows) > 0 {
		rows = append([]string{""}, rows...)
	}
	return rows
}

// waysRows is what was applied, and what would shorten the wet time, with all about the one
// that is chosen.
func (m Model) waysRows(w int) section {
	s := section{at: -1}
	for i, t := range m.taken {
		text := "applied: " + safetext.Clean(t.text)
		if i == len(m.taken)-1 {
			text += " (- undoes it)"
		}
		s.rows = append(s.rows, widget.Painted(text, w, style.Label)...)
	}
	all := m.ways()
	if len(all) == 0 {
		return s
	}
	if len(s.rows) > 0 {
		s.rows = append(s.rows, "")
	}
	s.rows = append(s.rows, widget.Truncate(style.Heading("Ways to shorten wet time"), w))
	chosen, _ := m.chosen()
	if w < tableFrom {
		return m.narrowWays(s, w)
	}
	t := widget.Table{Width: w, Selected: -1, Columns: []widget.Column{{Least: 12}, {Title: "saves", Right: true}, {Title: "then", Right: true}}}
	for _, way := range all {
		t.Rows = append(t.Rows, []string{safetext.Clean(way.Text), sequence.FormatElapsed(way.Saves), m.then(way)})
	}
	if m.at >= len(fields) {
		t.Selected, s.at = chosen, len(s.rows)+1+chosen
	}
	s.rows = append(s.rows, strings.Split(t.View(), "\n")...)
	s.rows = append(s.rows, m.aboutWay(all[chosen], w)...)
	return s
}

// narrowWays has beneath each way what it comes to.
func (m Model) narrowWays(s section, w int) section {
	chosen, _ := m.chosen()
	for i, way := range m.ways() {
		rows := widget.Painted(safetext.Clean(say.Sentence(way.Text)), w-2, style.Value)
		rows = append(rows, style.Label("saves ")+style.Value(sequence.FormatElapsed(way.Saves))+style.Label(", then ")+m.then(way))
		if i == chosen {
			rows = append(rows, widget.Painted(costs(way), w-2, style.Label)...)
		}
		for j, r := range rows {
			mark := "  "
			if i == chosen && j == 0 {
				mark = style.Key.Render("+") + " "
			}
			if i == chosen && m.at >= len(fields) {
				mark = style.Now.Render("▌") + " "
			}
			if r = widget.Truncate(mark+r, w); i == chosen && m.at >= len(fields) {
				r = style.SelectedRow(r, w)
				if j == 0 {
					s.at = len(s.rows)
				}
			}
			s.rows = append(s.rows, r)
		}
	}
	return s
}

// costs is what a way costs, and what to watch for.
func costs(way sequence.Shortening) (text string) {
	if way.Price != "" {
		text = "Costs: " + way.Price + ". "
	}
	if way.Caution != "" {
		text += say.Sentence(way.Caution)
	}
	return safetext.Clean(strings.TrimSpace(text))
}

// then is the time in hand that a way leaves.
func (m Model) then(way sequence.Shortening) string {
	text := say.InHand(way.Margin)
	switch {
	case way.Margin == nil:
		return style.Label(text)
	case *way.Margin < 0:
		return danger(text)
	case *way.Margin >= m.recipe.Film.WetWarning:
		return style.Done.Render(text)
	}
	return text
}

// aboutWay is the whole of what the way that + applies does, and what it costs.
func (m Model) aboutWay(way sequence.Shortening, w int) (rows []string) {
	text := safetext.Clean(say.Sentence(way.Text)) + " " + costs(way)
	for i, r := range widget.Wrap(text, max(1, w-2)) {
		mark := "  "
		if i == 0 {
			mark = style.Key.Render("+") + " "
		}
		rows = append(rows, mark+style.Label(r))
	}
	return rows
}
