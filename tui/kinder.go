package tui

// What the plan proposes, on the planning screen: what would shorten the wet time, listed
// kindest first, and how warm a bath that drifts should start. One key carries one out,
// one takes the last one back.

import (
	"strconv"
	"strings"

	"example.org/wetside/sequence"
)

// taken is a proposal that was carried out, and what it changed.
type taken struct {
	text          string
	recipe        sequence.Recipe // as it was before
	before, after sequence.Words
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
		return m.sorry("nothing is proposed: the wet time keeps its margin, or no limit is known")
	}
	done := m.plan.proposals()[i]
	m.plan = m.plan.shorten()
	return m.say(done.TextFor(m.plan.words.Habits) + "; - takes it back")
}

// startAsProposed takes over the temperature that the bath should start with, and says so.
func (m Model) startAsProposed() Model {
	p, h := m.plan, m.plan.words.Habits
	if p.fault != "" {
		return m.sorry(p.fault)
	}
	to, ok := p.plan.StartAt()
	if !ok {
		return m.sorry("no start is proposed: the bath does not drift, starts so already, or none makes up for it")
	}
	t := taken{text: "the developer reads " + h.Typed(to) + " " + string(rune(h.Scale())), recipe: p.recipe, before: p.words}
	_, ago, dated := strings.Cut(p.words.Temp, "@")
	if p.words.Temp = h.Typed(to); dated {
		p.words.Temp += "@" + ago
	}
	t.after = p.words
	p.taken = append(p.taken[:len(p.taken):len(p.taken)], t)
	m.plan = p.again()
	return m.say(t.text + " at the start; - takes it back")
}

// takeBack undoes the last proposal, and says so.
func (m Model) takeBack() Model {
	n := len(m.plan.taken)
	if n == 0 {
		return m.sorry("nothing was shortened or taken over")
	}
	undone := m.plan.taken[n-1].text
	m.plan = m.plan.takeBack()
	return m.say("taken back: " + undone)
}

// shorten carries out the proposal that is chosen.
func (p planModel) shorten() planModel {
	i, ok := p.chosen()
	if !ok {
		return p
	}
	s := p.proposals()[i]
	r, c, ok := p.plan.Shortened(s)
	if !ok {
		return p
	}
	t := taken{text: s.TextFor(p.words.Habits), recipe: p.recipe, before: p.words}
	p.recipe = r
	p.words = reworded(p.words, p.plan.Conditions, c)
	t.after = p.words
	p.taken = append(p.taken[:len(p.taken):len(p.taken)], t)
	return p.again()
}

// takeBack undoes the last proposal. What was typed since then stays.
func (p planModel) takeBack() planModel {
	n := len(p.taken)
	if n == 0 {
		return p
	}
	t := p.taken[n-1]
	p.taken, p.recipe = p.taken[:n-1], t.recipe
	for _, f := range fields {
		if now := f.of(&p.words); *now == *f.of(&t.after) {
			*now = *f.of(&t.before)
		}
	}
	return p.again()
}

// reworded is the conditions as typed, with what a proposal changed.
func reworded(w sequence.Words, before, after sequence.Conditions) sequence.Words {
	if after.Vessel != before.Vessel {
		w.Vessel = string(after.Vessel)
	}
	if after.Sheets != before.Sheets {
		w.Sheets = strconv.Itoa(after.Sheets)
	}
	if t := after.Temp; t != nil && (before.Temp == nil || *t != *before.Temp) {
		w.Temp = w.Habits.Typed(*t)
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
			line += " (- takes it back)"
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
		list = append(list, prepLine{mark + offer(s, p.words.Habits), l})
		if i != at {
			continue
		}
		list = append(list, prepLine{"    costs: " + s.Price, text})
		if s.Caution != "" {
			list = append(list, prepLine{"    " + s.Caution, text})
		}
	}
	for _, s := range p.plan.Kinder() {
		line := "  kind besides, no shorter: " + s.TextFor(p.words.Habits)
		if s.Saves < 0 {
			line += ", " + sequence.Clock(-s.Saves) + " longer"
		}
		list = append(list, prepLine{line, dim})
	}
	return list
}

// offer is a proposal in a line.
func offer(s sequence.Shortening, h sequence.Habits) string {
	line := sequence.Clock(s.Saves) + " less"
	switch {
	case s.Margin == nil:
		line += ", no limit known"
	case *s.Margin < 0:
		line += ", " + sequence.Clock(-*s.Margin) + " over"
	default:
		line += ", " + sequence.Clock(*s.Margin) + " left"
	}
	return line + ": " + s.TextFor(h)
}
