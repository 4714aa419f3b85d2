package plan

// What to know of the plan: cautions by their level, gentler measures, what was observed.

import (
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// notes is what the fold calls all that is good to know.
const notes = "notes"

// dangers are the cautions that are never folded.
func (p page) dangers(w int) section {
	s := p.cautions(w, sequence.Danger)
	s.folded = ""
	return s
}

// cautions are those of one level. What the wet time comes to is in the answer.
func (p page) cautions(w int, level sequence.Level) (s section) {
	n := 0
	for _, c := range say.Cautions(p.plan, p.conditions.Units) {
		if c.Level != level || c.Code == "wet-limit" || c.Code == "wet-warning" {
			continue
		}
		text := say.Sentence(c.Text)
		if c.Code == "start-at" {
			text += " = uses that temperature."
		}
		n++
		s.rows = append(s.rows, widget.CautionRows(level, text, w)...)
	}
	if s.folded = notes; level == sequence.Care {
		s.folded = style.Care.Render(say.Count(n, "caution"))
	}
	return s
}

// gentler is what would be kinder to the film without being shorter.
func (p page) gentler(w int) section {
	var rows []string
	for _, g := range say.Shortenings(planning.Gentler(p.plan), p.conditions.Units) {
		length := "as long"
		if g.Saves < 0 {
			length = sequence.FormatElapsed(-g.Saves) + " longer"
		}
		rows = append(rows, widget.Painted(say.Sentence(g.Text+", "+length)+" "+costs(g), w, style.Label)...)
	}
	return headed("Gentler on the film", rows, notes)
}

// told is what was observed, and where the time came from.
func (p page) told(w int) section {
	var rows []string
	if p.risk != "" {
		rows = widget.Painted(p.risk, w, style.Value)
	}
	if p.offer != nil {
		text, from := say.FilmTime(p.offer, p.conditions.Units)
		rows = append(rows, widget.Painted(safetext.Clean(text+" "+from), w, style.Value)...)
	}
	if from := p.recipe.Origin(); from != "" {
		rows = append(rows, widget.Painted("The time was found by a film test: "+from, w, style.Label)...)
	}
	return section{rows: rows, folded: notes}
}
