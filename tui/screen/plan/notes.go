package plan

// What to know of the plan: cautions by their level, gentler measures, what was observed.

import (
	"fmt"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// cautions are those of one level. What the wet time comes to is in the answer.
func (m Model) cautions(w int, level sequence.Level) section {
	s := section{at: -1}
	for _, c := range say.Cautions(m.plan, m.conditions.Units) {
		if c.Level != level || c.Code == "wet-limit" || c.Code == "wet-warning" || say.ForMixing(c) {
			continue
		}
		text := say.Sentence(safetext.Clean(c.Text))
		if c.Code == "start-at" {
			text += " = uses that temperature."
		}
		s.rows = append(s.rows, cautionRows(level, text, w)...)
	}
	return s
}

// elsewhere says how many notes are read while preparing.
func (m Model) elsewhere(w int) section {
	n := 0
	for _, c := range m.plan.Cautions {
		if say.ForMixing(c) {
			n++
		}
	}
	if n == 0 {
		return section{at: -1}
	}
	return section{[]string{style.Label(widget.Truncate(fmt.Sprintf("%d notes on baths and the room: in Prepare", n), w))}, -1}
}

// cautionRows is a caution behind the word of its level.
func cautionRows(level sequence.Level, text string, w int) (rows []string) {
	const word = 8
	for i, r := range widget.Wrap(text, max(1, w-word)) {
		first := ""
		switch {
		case i > 0:
		case level == sequence.Danger:
			first = style.Danger.Render("danger")
		case level == sequence.Care:
			first = style.Care.Render("care")
		default:
			first = style.Label("note")
		}
		paint := style.Value
		if level == sequence.Danger {
			paint = style.Heading
		}
		rows = append(rows, widget.Truncate(widget.Pad(first, word)+paint(r), w))
	}
	return rows
}

// notes is what is good to know: gentler measures, what was observed, where the time came from.
func (m Model) notes(w int) []section {
	var gentler, told section
	gentler.at, told.at = -1, -1
	for _, g := range say.Shortenings(planning.Gentler(m.plan), m.conditions.Units) {
		length := "as long"
		if g.Saves < 0 {
			length = sequence.FormatElapsed(-g.Saves) + " longer"
		}
		text := safetext.Clean(say.Sentence(g.Text+", "+length)) + " " + costs(g)
		gentler.rows = append(gentler.rows, widget.Painted(text, w, style.Label)...)
	}
	if len(gentler.rows) > 0 {
		gentler.rows = append([]string{widget.Truncate(style.Heading("Gentler on the film"), w)}, gentler.rows...)
	}
	if m.observed.text != "" {
		told.rows = append(told.rows, widget.Painted(safetext.Clean(m.observed.text), w, style.Value)...)
	}
	if from := m.recipe.Origin(); from != "" {
		told.rows = append(told.rows, widget.Painted("The time was found by a film test: "+safetext.Clean(from), w, style.Label)...)
	}
	return []section{gentler, told, m.cautions(w, sequence.Note), m.elsewhere(w)}
}

// suggests reports whether the plan suggests a start temperature.
func (m Model) suggests() bool {
	if m.fault.text != "" {
		return false
	}
	_, ok := planning.StartTemperature(m.plan)
	return ok
}
