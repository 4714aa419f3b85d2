package plan

// What the plan proposes: ways to shorten the wet time, kindest first, and how warm a bath
// that drifts should start. One key carries one out, one undoes the last.

import (
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// takenWay is a proposal that was carried out, and what it changed.
type takenWay struct {
	text          string
	recipe        sequence.Recipe // as it was before
	before, after sequence.RawConditions
}

// ways are what would shorten the wet time, where it is short.
func (m Model) ways() []sequence.Shortening {
	w := m.plan.Wet
	if m.fault.text != "" || w.Margin == nil || *w.Margin >= m.recipe.Film.WetWarning {
		return nil
	}
	return say.Shortenings(m.plan.Shorten, m.conditions.Units)
}

// chosen is the way under the cursor; the kindest where the cursor is on a condition.
// False where nothing is proposed.
func (m Model) chosen() (int, bool) {
	n := len(m.ways())
	return min(max(0, m.at-len(fields)), max(0, n-1)), n > 0
}

// shorten carries out the way that is chosen, and says so.
func (m Model) shorten() (Model, screen.Action) {
	i, ok := m.chosen()
	switch {
	case m.fault.text != "":
		return m, m.sayFault()
	case !ok && m.plan.Wet.Margin == nil:
		return m, screen.Message{Text: "Nothing is proposed: no wet limit is known for this film in this vessel."}
	case !ok:
		return m, screen.Message{Text: "Nothing is proposed: the wet time is well within its limit."}
	}
	s := m.ways()[i]
	r, c, ok := planning.ApplyShortening(m.plan, s)
	if !ok {
		return m, nil
	}
	t := takenWay{text: s.Text, recipe: m.recipe, before: m.conditions}
	m.recipe = r
	m.conditions = reworded(m.conditions, m.plan.Conditions, c)
	t.after = m.conditions
	m.taken = append(m.taken[:len(m.taken):len(m.taken)], t)
	return m.again(), screen.Message{Text: say.Sentence(t.text) + " - undoes it."}
}

// startAsSuggested takes over the temperature that the bath should start with, and says so.
func (m Model) startAsSuggested() (Model, screen.Action) {
	if m.fault.text != "" {
		return m, m.sayFault()
	}
	u := m.conditions.Units
	to, ok := planning.StartTemperature(m.plan)
	if !ok {
		return m, screen.Message{Text: "No start is suggested: the bath is steady, starts so already, or no temperature makes up for its drift."}
	}
	t := takenWay{text: "the developer starts at " + say.TypedTemperature(to, u) + " °" + string(rune(u.Scale())), recipe: m.recipe, before: m.conditions}
	_, ago, dated := strings.Cut(m.conditions.Temp, "@")
	if m.conditions.Temp = say.TypedTemperature(to, u); dated {
		m.conditions.Temp += "@" + ago
	}
	t.after = m.conditions
	m.taken = append(m.taken[:len(m.taken):len(m.taken)], t)
	return m.again(), screen.Message{Text: say.Sentence(t.text) + " - undoes it."}
}

// undo undoes the last proposal, and says so. What was typed since then stays.
func (m Model) undo() (Model, screen.Action) {
	n := len(m.taken)
	if n == 0 {
		return m, screen.Message{Text: "There is nothing to undo: no way was applied, no temperature taken over."}
	}
	t := m.taken[n-1]
	m.taken, m.recipe = m.taken[:n-1:n-1], t.recipe
	for _, f := range fields {
		if now := f.of(&m.conditions); *now == *f.of(&t.after) {
			*now = *f.of(&t.before)
		}
	}
	return m.again(), screen.Message{Text: "Undone: " + t.text + "."}
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

// otherVessel says that the time was not found for the vessel; "" where it was.
func (m Model) otherVessel() string {
	if m.fault.text != "" {
		return ""
	}
	for _, c := range say.Cautions(m.plan, m.conditions.Units) {
		if c.Code == "other-vessel" {
			return say.Sentence(c.Text)
		}
	}
	return ""
}

// sayFault says why there is no plan, with the name of the field.
func (m Model) sayFault() screen.Action {
	return screen.Message{Text: say.Sentence(fields[m.fault.field].label + ": " + m.fault.text), Fault: true}
}
