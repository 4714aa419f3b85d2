package prepare

// What the developer reads now, typed, and the plan that follows from it.

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// longestReading is as much as can be typed.
const longestReading = 16

// thermometer is the field, and the plan.
type thermometer struct {
	opened, plan *sequence.Plan // as it was opened with; with what the thermometer reads
	units        sequence.Units
	reading      string         // as typed; "" for nothing
	fault        string         // why that makes no plan
	typing       *widget.Prompt // open on the reading; nil while it is not
	before       string         // what was typed before
}

// corrected reports whether the plan follows the developer's temperature.
func (t thermometer) corrected() bool {
	return slices.ContainsFunc(t.plan.Steps, func(s sequence.PlanStep) bool { return s.TimeByTemperature != nil })
}

// read plans anew with what the developer reads; an empty field is the plan as it came.
func (t thermometer) read(typed string) thermometer {
	t.reading, t.fault = typed, ""
	if strings.TrimSpace(typed) == "" {
		t.reading, t.plan = "", t.opened
		return t
	}
	r, err := t.units.ParseReading(typed)
	if err != nil {
		t.fault = err.Error()
		return t
	}
	c := t.opened.Conditions
	c.BathTemperature, c.ReadBefore, c.ToRead = &r.T, r.Ago, false
	p, err := planning.Resolve(t.opened.Recipe, c)
	if err != nil {
		t.fault = say.Error(err, t.units)
		return t
	}
	t.plan = &p
	return t
}

// begun opens the field with its first character; false where the key is none.
func (t thermometer) begun(k tea.KeyMsg) (thermometer, bool) {
	name, p := k.String(), widget.NewPrompt("", "", t.reading)
	switch {
	case name == "backspace" && t.reading != "":
	case len(name) == 1 && name[0] >= '0' && name[0] <= '9':
		p = widget.NewPrompt("", "", "")
	default:
		return t, false
	}
	t.before = t.reading
	return t.typed(p.Typed(k)), true
}

// typed takes in what stands in the field now, where that may be a reading.
func (t thermometer) typed(p *widget.Prompt) thermometer {
	word := p.Value()
	if len(word) > longestReading || strings.ContainsFunc(word, func(r rune) bool { return r < ' ' || r > '~' }) {
		return t
	}
	if t.typing = p; word != t.reading {
		return t.read(word)
	}
	return t
}

// left is the field closed with what was typed, undone with what was there before.
func (t thermometer) left() thermometer {
	t.typing = nil
	return t
}

func (t thermometer) undone() thermometer { return t.left().read(t.before) }

// measure is what the developer reads now, and what the plan makes of it.
func (m checklist) measure() []line {
	l := lister{section: measureSection}
	if !m.thermometer.corrected() {
		l.add(valueLine, "", "The recipe's time is not corrected for temperature. Read the thermometer all the same, and note it.")
		return l.list
	}
	l.add(readingLine, "developer reads", "")
	if m.thermometer.fault != "" {
		return l.list
	}
	today, recipe := say.Develop(m.plan, m.units)
	total, limit := say.Wet(m.plan)
	if recipe != "" {
		recipe = " (" + recipe + ")"
	}
	l.add(valueLine, "", "Develop "+today+recipe+". Wet "+total+": "+limit+".")
	m.cautions(&l, noteLine, ofTheReading)
	return l.list
}

// ofTheReading reports whether a note is about what the developer should read.
func ofTheReading(c sequence.Caution) bool {
	return slices.Contains([]string{"start-at", "to-read", "uncorrected", "coefficient"}, c.Code)
}
