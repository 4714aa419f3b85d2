package widget

// A plan as the screens show it: the answer in a row, and its steps as a table.

import (
	"strings"

	"slices"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
)

// PlanStrip is a plan to scale.
func PlanStrip(p *sequence.Plan, width, rows int) Strip {
	return Strip{Timeline: Named(timeline.OfPlan(p)), Width: width, Rows: rows, LimitIn: say.LimitIn(p)}
}

// Named is a line with its steps' names as they may be shown, in the trade's words.
func Named(t timeline.Timeline) timeline.Timeline {
	t.Segments = slices.Clone(t.Segments)
	for i := range t.Segments {
		t.Segments[i].Name = safetext.Clean(say.StepName(t.Segments[i].Name))
	}
	return t
}

// PlanAnswer is how long to develop and how long the film is wet, in one row where both
// have room, else in two.
func PlanAnswer(p *sequence.Plan, u sequence.Units, width int) []string {
	var develop string
	if today, recipe := say.Develop(p, u); today != "" {
		develop = style.Heading("Develop "+today) + "   " + style.Label(recipe)
	}
	total, limit := say.Wet(p)
	paint := func(s string) string { return inHand(p, s) }
	wet := style.Heading("Wet "+total) + "   " + paint(limit)
	full := wet
	if text := say.WetByVessel(p); text != "" {
		full = style.Heading("Wet "+total) + "   " + paint(text)
	}
	if develop == "" {
		return []string{Truncate(wet, width)}
	}
	for _, text := range []string{full, wet} {
		if ansi.StringWidth(develop)+3+ansi.StringWidth(text) <= width {
			return []string{Spread(develop, text, width)}
		}
	}
	if ansi.StringWidth(full) <= width {
		wet = full
	}
	return []string{Truncate(develop, width), Truncate(wet, width)}
}

// inHand colours what of the limit a wet time is: what is in hand is what was asked for, and good where no
// warning comes.
func inHand(p *sequence.Plan, limit string) string {
	share, rest, found := strings.Cut(limit, ", ")
	switch {
	case say.OverLimit(p):
		return style.Danger.Render(limit)
	case !found:
		return style.Label(limit)
	case p.Wet.WarningAt == nil:
		return style.Label(share+", ") + style.Done.Render(rest)
	}
	return style.Label(share+", ") + style.Value(rest)
}

// PlanSteps is the steps: when each begins, how long it lasts, the light, what the hands do,
// which goes on in a second row where it is long.
func PlanSteps(p *sequence.Plan, width int) Table { return planSteps(p, width, Wrap) }

// BriefSteps is the same with a row a step: what the hands do is cut where it is long.
func BriefSteps(p *sequence.Plan, width int) Table {
	return planSteps(p, width, func(s string, width int) []string { return []string{cutBehindPart(s, width)} })
}

// cutBehindPart is as many parts of a list as have room; of the first as much as has room.
func cutBehindPart(s string, width int) string {
	rows := Wrap(s, width-len(" ")-Width(cutMark))
	if Width(s) <= width || len(rows) == 0 {
		return Truncate(s, width)
	}
	if end := strings.LastIndexAny(rows[0], ",;"); end > 0 {
		return rows[0][:end] + " " + cutMark
	}
	return Truncate(s, width)
}

func planSteps(p *sequence.Plan, width int, broken func(string, int) []string) Table {
	t := Table{Plain: true, Selected: -1, Width: width, Columns: []Column{{Title: "step"}, {Title: "start", Right: true},
		{Title: "time", Right: true}, {Title: "light"}}}
	for i := range p.Steps {
		st := &p.Steps[i]
		t.Rows = append(t.Rows, []string{safetext.Clean(say.StepName(st.Name)), sequence.FormatElapsed(st.Start),
			sequence.FormatElapsed(st.Given), say.RoomLight(st.RoomLight)})
	}
	room := width - t.Natural() - tableGap
	if room < leastHands {
		return t
	}
	steps := t.Rows
	t.Columns, t.Rows = append(t.Columns, Column{Title: "hands"}), nil
	for i, row := range steps {
		for j, text := range broken(say.Hands(p, i), room) {
			if j > 0 {
				row = make([]string, len(row))
			}
			t.Rows = append(t.Rows, append(row, text))
		}
	}
	return t
}

// leastHands is the width below which what the hands do is left out.
const leastHands = 12

// PlanCautions are a plan's cautions in sentences, each with the word of its level.
func PlanCautions(p *sequence.Plan, u sequence.Units, width int) (rows []string) {
	for _, c := range say.Cautions(p, u) {
		rows = append(rows, CautionRows(c.Level, say.Sentence(c.Text), width)...)
	}
	return rows
}

// CautionRows is a sentence behind the word of its level; what is a danger is bold.
func CautionRows(level sequence.Level, sentence string, width int) []string {
	const wordWidth = 8
	word, paint := style.Label("note"), style.Value
	switch level {
	case sequence.Danger:
		word, paint = style.Danger.Render("danger"), style.Heading
	case sequence.Care:
		word = style.Care.Render("care")
	}
	return Hanging(word, wordWidth, Painted(sentence, width-wordWidth, paint), width)
}
