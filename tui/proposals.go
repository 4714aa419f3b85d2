package tui

// What the plan proposes, on the planning screen: what would shorten the wet time, listed
// kindest first, and how warm a bath that drifts should start. One key carries one out,
// one takes the last one back.

import (
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// takenProposal is a proposal that was carried out, and what it changed.
type takenProposal struct {
	text          string
	recipe        sequence.Recipe // as it was before
	before, after sequence.RawConditions
}

// proposals are what would shorten the wet time, where it is short.
func (p planModel) proposals() []sequence.Shortening {
	w := p.plan.Wet
	if p.fault != "" || w.Margin == nil || *w.Margin >= p.recipe.Film.WetWarning {
		return nil
	}
	return p.plan.Shorten
}

// chosen is the proposal under the cursor; the kindest where the cursor is on a
// condition. False where nothing is proposed.
func (p planModel) chosen() (int, bool) {
	n := len(p.proposals())
	return min(max(0, p.at-len(fields)), max(0, n-1)), n > 0
}

// shorten carries out the proposal that is chosen, and says so.
func (m Model) shorten() Model {
	i, ok := m.plan.chosen()
	if !ok {
		return m.showError("nothing is proposed: the wet time keeps its margin, or no limit is known")
	}
	done := m.plan.proposals()[i]
	m.plan = m.plan.shorten()
	return m.showMessage(say.Shortening(done, m.plan.conditions.Units).Text + "; - undoes it")
}

// startAsProposed takes over the temperature that the bath should start with, and says so.
func (m Model) startAsProposed() Model {
	p, h := m.plan, m.plan.conditions.Units
	if p.fault != "" {
		return m.showError(p.fault)
	}
	to, ok := planning.StartTemperature(p.plan)
	if !ok {
		return m.showError("no start is proposed: the bath does not drift, starts so already, or none makes up for it")
	}
	t := takenProposal{text: "the developer reads " + say.TypedTemperature(to, h) + " " + string(rune(h.Scale())), recipe: p.recipe, before: p.conditions}
	_, ago, dated := strings.Cut(p.conditions.Temp, "@")
	if p.conditions.Temp = say.TypedTemperature(to, h); dated {
		p.conditions.Temp += "@" + ago
	}
	t.after = p.conditions
	p.taken = append(p.taken[:len(p.taken):len(p.taken)], t)
	m.plan = p.again()
	return m.showMessage(t.text + " at the start; - undoes it")
}

// undoProposal undoes the last proposal, and says so.
func (m Model) undoProposal() Model {
	n := len(m.plan.taken)
	if n == 0 {
		return m.showError("nothing was shortened or taken over")
	}
	undone := m.plan.taken[n-1].text
	m.plan = m.plan.undoProposal()
	return m.showMessage("taken back: " + undone)
}

// shorten carries out the proposal that is chosen.
func (p planModel) shorten() planModel {
	i, ok := p.chosen()
	if !ok {
		return p
	}
	s := p.proposals()[i]
	r, c, ok := planning.ApplyShortening(p.plan, s)
	if !ok {
		return p
	}
	t := takenProposal{text: say.Shortening(s, p.conditions.Units).Text, recipe: p.recipe, before: p.conditions}
	p.recipe = r
	p.conditions = reworded(p.conditions, p.plan.Conditions, c)
	t.after = p.conditions
	p.taken = append(p.taken[:len(p.taken):len(p.taken)], t)
	return p.again()
}

// undoProposal undoes the last proposal. What was typed since then stays.
func (p planModel) undoProposal() planModel {
	n := len(p.taken)
	if n == 0 {
		return p
	}
	t := p.taken[n-1]
	p.taken, p.recipe = p.taken[:n-1], t.recipe
	for _, f := range fields {
		if now := f.of(&p.conditions); *now == *f.of(&t.after) {
			*now = *f.of(&t.before)
		}
	}
	return p.again()
}

// reworded is the conditions as typed, with what a proposal changed.
func reworded(w sequence.RawConditions, before, after sequence.Conditions) sequence.RawConditions {
	if after.Vessel != before.Vessel {
		w.Vessel = string(after.Vessel)
	}
	if after.Sheets != before.Sheets {
		w.Sheets = strconv.Itoa(after.Sheets)
	}
	if t := after.BathTemperature; t != nil && (before.BathTemperature == nil || *t != *before.BathTemperature) {
		w.Temp = say.TypedTemperature(*t, w.Units)
	}
	return w
}

// shortenings lists what was carried out, and what is proposed; of the one that is
// chosen what it costs too.
func (p planModel) shortenings() []prepLine {
	var list []prepLine
	for i, t := range p.taken {
		line := "done: " + t.text
		if i == len(p.taken)-1 {
			line += " (- undoes it)"
		}
		list = append(list, prepLine{line, text})
	}
	all := p.proposals()
	if len(all) == 0 {
		return list
	}
	at, _ := p.chosen()
	list = append(list, prepLine{"What would shorten it (+ does it):", dim})
	if p.at >= len(fields) && at > 1 {
		list = append(list, prepLine{"  …", dim})
	}
	for i, s := range all {
		if p.at >= len(fields) && i < at-1 {
			continue
		}
		mark, l := "  ", text
		if i == at {
			mark, l = "+ ", strong
		}
		if i == at && p.at >= len(fields) {
			l = bright
		}
		list = append(list, prepLine{mark + offer(s, p.conditions.Units), l})
		if i != at {
			continue
		}
		words := say.Shortening(s, p.conditions.Units)
		list = append(list, prepLine{"    costs: " + words.Price, text})
		if words.Caution != "" {
			list = append(list, prepLine{"    " + words.Caution, text})
		}
	}
	for _, s := range planning.Gentler(p.plan) {
		line := "  also gentler, same length: " + say.Shortening(s, p.conditions.Units).Text
		if s.Saves < 0 {
			line += ", " + sequence.FormatElapsed(-s.Saves) + " longer"
		}
		list = append(list, prepLine{line, dim})
	}
	return list
}

// offer is a proposal in a line.
func offer(s sequence.Shortening, h sequence.Units) string {
	line := sequence.FormatElapsed(s.Saves) + " less"
	switch {
	case s.Margin == nil:
		line += ", no limit known"
	case *s.Margin < 0:
		line += ", " + sequence.FormatElapsed(-*s.Margin) + " over"
	default:
		line += ", " + sequence.FormatElapsed(*s.Margin) + " left"
	}
	return line + ": " + say.Shortening(s, h).Text
}
