package widget

// A plan as the screens show it: the answer in a row, and its steps as a table.

import (
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
)

// PlanStrip is a plan to scale.
func PlanStrip(p *sequence.Plan, width, rows int) Strip {
	t := timeline.OfPlan(p)
	for i := range t.Segments {
		t.Segments[i].Name = safetext.Clean(say.StepName(t.Segments[i].Name))
	}
	return Strip{Timeline: t, Width: width, Rows: rows}
}

// PlanAnswer is how long to develop and how long the film is wet, in one row where both
// have room, else in two.
func PlanAnswer(p *sequence.Plan, u sequence.Units, width int) []string {
	var develop string
	if today, recipe := say.Develop(p, u); today != "" {
		develop = style.Heading("Develop "+today) + "   " + style.Label(recipe)
	}
	total, limit := say.Wet(p)
	paint := style.Label
	if say.OverLimit(p) {
		paint = func(s string) string { return style.Danger.Render(s) }
	}
	wet := style.Heading("Wet "+total) + "   " + paint(limit)
	switch {
	case develop == "":
		return []string{Truncate(wet, width)}
	case ansi.StringWidth(develop)+3+ansi.StringWidth(wet) <= width:
		return []string{Spread(develop, wet, width)}
	}
	return []string{Truncate(develop, width), Truncate(wet, width)}
}

// PlanSteps is the steps: when each begins, how long it lasts, the light, what the hands do,
// which goes on in a second row where it is long.
func PlanSteps(p *sequence.Plan, width int) Table {
	t := Table{Plain: true, Selected: -1, Width: width, Columns: []Column{{Title: "step"}, {Title: "start", Right: true},
		{Title: "time", Right: true}, {Title: "light"}, {Title: "hands"}}}
	var hands []string
	for i := range p.Steps {
		st := &p.Steps[i]
		t.Rows = append(t.Rows, []string{safetext.Clean(say.StepName(st.Name)), sequence.FormatElapsed(st.Start), sequence.FormatElapsed(st.Given),
			say.RoomLight(st.RoomLight), ""})
		hands = append(hands, say.Hands(p, i))
	}
	room := width - t.Natural() + len("hands")
	if room < leastHands {
		room = leastHands
	}
	rows := t.Rows
	t.Rows = nil
	for i, row := range rows {
		for j, text := range Wrap(hands[i], room) {
			if j > 0 {
				row = make([]string, len(row))
			}
			row[len(row)-1] = text
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// leastHands is the width below which what the hands do is cut instead.
const leastHands = 12
