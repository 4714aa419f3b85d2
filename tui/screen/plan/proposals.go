package plan

// What the plan proposes: ways to shorten the wet time, kindest first, and how warm a bath
// that drifts should start. One key applies one, one undoes the last.

import (
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// proposal is one that was applied, and what it changed.
type proposal struct {
	text          string
	recipe        sequence.Recipe // as it was before
	before, after sequence.RawConditions
}

// ways are what would shorten the wet time, where it is short.
func (d draft) ways() []sequence.Shortening {
	w := d.plan.Wet
	if d.broken() || w.Margin == nil || *w.Margin >= d.recipe.Film.WetWarning {
		return nil
	}
	return say.Shortenings(d.plan.Shorten, d.conditions.Units)
}

// shortened applies a way, and says so.
func (d draft) shortened(way int) (draft, screen.Action) {
	list := d.ways()
	switch {
	case d.broken():
		return d, d.sayFault()
	case len(list) == 0 && d.plan.Wet.Margin == nil:
		return d, screen.Message{Text: "Nothing is proposed: no wet limit is known for this film in this vessel."}
	case len(list) == 0:
		return d, screen.Message{Text: "Nothing is proposed: the wet time is well within its limit."}
	}
	s := list[way]
	r, c, ok := planning.ApplyShortening(d.plan, s)
	if !ok {
		return d, nil
	}
	return d.apply(s.Text, r, reworded(d.conditions, d.plan.Conditions, c))
}

// apply changes recipe and conditions by a proposal, and says how it is undone.
func (d draft) apply(text string, r sequence.Recipe, w sequence.RawConditions) (draft, screen.Action) {
	d.applied = append(d.applied[:len(d.applied):len(d.applied)], proposal{text, d.recipe, d.conditions, w})
	d.recipe, d.conditions = r, w
	return d.resolved(), screen.Message{Text: say.Sentence(text) + " - undoes it."}
}

// suggests reports whether the plan suggests a start temperature.
func (d draft) suggests() bool {
	if d.broken() {
		return false
	}
	_, ok := planning.StartTemperature(d.plan)
	return ok
}

// startedAsSuggested takes over the temperature that the bath should start with, and says so.
func (d draft) startedAsSuggested() (draft, screen.Action) {
	if d.broken() {
		return d, d.sayFault()
	}
	to, ok := planning.StartTemperature(d.plan)
	if !ok {
		return d, screen.Message{Text: "No start is suggested: the bath is steady, starts so already, or no temperature makes up for its drift."}
	}
	w := d.conditions
	_, ago, dated := strings.Cut(w.Temp, "@")
	if w.Temp = say.TypedTemperature(to, w.Units); dated {
		w.Temp += "@" + ago
	}
	return d.apply("the developer starts at "+say.TypedTemperature(to, w.Units)+" °"+string(rune(w.Units.Scale())), d.recipe, w)
}

// undone undoes the last proposal, and says so. What was typed since then stays.
func (d draft) undone() (draft, screen.Action) {
	n := len(d.applied)
	if n == 0 {
		return d, screen.Message{Text: "There is nothing to undo: no way was applied, no temperature taken over."}
	}
	p := d.applied[n-1]
	d.applied, d.recipe = d.applied[:n-1:n-1], p.recipe
	for _, f := range fields {
		if now := f.of(&d.conditions); *now == *f.of(&p.after) {
			*now = *f.of(&p.before)
		}
	}
	return d.resolved(), screen.Message{Text: "Undone: " + p.text + "."}
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
