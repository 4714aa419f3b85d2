package prepare

// The list: what stands in each of its parts.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// The parts of the list.
const (
	knowSection = iota
	mixSection
	setOutSection
	measureSection
	laptopSection
	roomSection
	sections
)

var titles = [sections]string{"Know first", "1 Mix", "2 Set out, in this order", "3 Measure", "4 Laptop", "5 Room"}

// kind is how a line is drawn.
type kind int

const (
	valueLine kind = iota
	strongLine
	quietLine
	dangerLine
	careLine
	noteLine
	readingLine
	questionLine
	bathLine   // of Mix: what a bath is mixed from, with what belongs to it beneath
	setOutLine // of Set out: a bath with its temperature and time
)

// line is one thing to read or to answer, on which the cursor can stand.
type line struct {
	section int
	kind    kind
	label   string // before the text; "" for none
	text    string
	ask     ask // of a question
	bath    bathFacts
	group   bool // begins a group, apart from what is above it
}

// bathFacts are the figures of a bath that is set out: "23.9 °C", "5:37".
type bathFacts struct{ temperature, time string }

// lister gathers lines of one section.
type lister struct {
	section int
	list    []line
}

func (l *lister) add(k kind, label, text string) {
	l.list = append(l.list, line{section: l.section, kind: k, label: safetext.Clean(label), text: safetext.Clean(text)})
}

// checklist is what the list is made of.
type checklist struct {
	questions
	thermometer thermometer
	big         string // what the big key is called
}

// lines is the whole list.
func (m checklist) lines() []line {
	return slices.Concat(m.know(), m.mix(), m.setOut(), m.measure(), m.laptop(), m.room())
}

// know is the plan's dangers, then what asks for care; the rest of what is good to know
// stands where it is needed.
func (m checklist) know() []line {
	l := lister{section: knowSection}
	m.cautions(&l, dangerLine, func(c sequence.Caution) bool { return c.Level == sequence.Danger })
	if slices.Contains(m.asks(), askDanger) {
		l.ask(askDanger, "")
	}
	m.cautions(&l, careLine, func(c sequence.Caution) bool { return c.Level == sequence.Care })
	return l.list
}

// cautions adds those of the plan that belong here.
func (m checklist) cautions(l *lister, k kind, here func(sequence.Caution) bool) {
	for _, c := range say.Cautions(m.plan, m.units) {
		if here(c) {
			l.add(k, "", say.Sentence(c.Text))
		}
	}
}

// ask adds a question with its keys, or its answer.
func (l *lister) ask(a ask, label string) { l.list = append(l.list, question(a, label)) }

func question(a ask, label string) line {
	return line{section: sectionOf(a), kind: questionLine, label: label, ask: a}
}

// mix is what to measure for each bath or which bottle to take, with what it does to
// people; what stands for all of them last.
func (m checklist) mix() []line {
	l, u := lister{section: mixSection}, m.units
	for i := range m.plan.Recipe.Baths {
		b := &m.plan.Recipe.Baths[i]
		if k, ok := m.plan.OpenBottle(b.ID); ok {
			l.add(bathLine, say.StepName(b.ID), "from "+k.Bottle+", "+say.BottleFacts(k))
			if text := say.CapacityUsed(m.plan, b); text != "" {
				l.add(valueLine, "", text)
			}
		} else {
			m.mixed(&l, b)
		}
		for _, c := range say.HazardsIn(&m.plan.Recipe, b) {
			if c != say.SafetyReminder {
				l.add(hazard(c), "", c)
			}
		}
	}
	for _, b := range planning.MixedByLabel(m.plan) {
		l.add(bathLine, say.StepName(b.Name), say.ByLabel(b, u))
	}
	baths := len(l.list)
	m.cautions(&l, noteLine, func(c sequence.Caution) bool {
		return say.ForMixing(c) && c.Code != "chemistry" // that stands beneath its bath
	})
	if len(l.list) == 0 {
		l.add(quietLine, "", "Nothing is said of what the baths are mixed from.")
	}
	l.add(valueLine, "", say.SafetyReminder)
	for i := range l.list {
		l.list[i].group = l.list[i].kind == bathLine || i == baths
	}
	return l.list
}

// mixed is a bath that is mixed fresh: amounts, order, how long it keeps, what it takes.
func (m checklist) mixed(l *lister, b *sequence.Bath) {
	u := m.units
	l.add(bathLine, say.StepName(b.ID), say.Amounts(b, u))
	if len(b.Parts) > 1 {
		l.add(quietLine, "", say.Sentence(say.MixingOrder(b.Parts)))
	}
	if b.WorkingLife > 0 {
		l.add(valueLine, "", "Mix it last: once mixed it keeps for "+say.Short(b.WorkingLife)+".")
	}
	for _, d := range planning.Withdrawals(m.plan) {
		if d.Bath != b.ID {
			continue
		}
		k := valueLine
		if d.Short > 0 {
			k = dangerLine
		}
		l.add(k, "", "Takes "+say.Withdrawal(d, u))
	}
}

// hazard is danger where somebody can be poisoned, else it asks for care.
func hazard(text string) kind {
	if strings.Contains(strings.ToLower(text), "poison") {
		return dangerLine
	}
	return careLine
}

// setOut is the order of the baths, as they stand from left to right, with vessel,
// temperature and time.
func (m checklist) setOut() []line {
	l, u, p := lister{section: setOutSection}, m.units, m.plan
	likened, vessel := false, sequence.Vessel("")
	for i := range p.Steps {
		st := &p.Steps[i]
		var parts []string
		facts := bathFacts{time: sequence.FormatElapsed(st.Given)}
		if st.Bath != "" && st.Bath != st.Name {
			parts = append(parts, say.StepName(st.Bath))
		}
		if st.Vessel != vessel {
			parts, vessel = append(parts, st.Vessel.In()), st.Vessel
		}
		if st.Temperature != nil {
			facts.temperature = say.Temperature(*st.Temperature, u)
		} else if t, ok := planning.WaterAt(p, i); ok {
			facts.temperature, likened = say.Temperature(t, u), true
		}
		l.add(setOutLine, fmt.Sprintf("%d %s", i+1, say.StepName(st.Name)), strings.Join(parts, ", "))
		l.list[len(l.list)-1].bath = facts
		about := []string{say.Washing(p, i, u)}
		for _, way := range say.BetterWashes(p, i, u) {
			about = append(about, "to leave less: "+way)
		}
		for _, text := range append(about, st.Note) {
			if text != "" {
				l.add(quietLine, "", say.Sentence(text))
			}
		}
		if sequence.WaitsInWater(p, i) {
			l.add(valueLine, "", say.Sentence(say.WaterTray))
		}
	}
	if likened {
		l.add(valueLine, "", "All within "+say.Difference(planning.BathSpread, u)+" of each other.")
	}
	m.cautions(&l, noteLine, func(c sequence.Caution) bool {
		return c.Level == sequence.Note && !say.ForMixing(c) && !ofTheReading(c)
	})
	return l.list
}

// laptop is its panel, its background and its sound.
func (m checklist) laptop() []line {
	l := lister{section: laptopSection}
	if m.plan.HasDark() {
		l.ask(askPanel, "panel")
		l.add(quietLine, "", "A black panel still glows. Cover it, or leave the laptop outside the room.")
	}
	for _, one := range []struct {
		ask         ask
		label, text string
	}{
		{askBlack, "background", "The terminal did not confirm that its background is black: a resize may flash."},
		{askAround, "window frame", say.Around(m.around, m.hides)},
		{askFar, "far away", say.OverSSH},
		{askSound, "sound", say.NoSound(m.sound)},
	} {
		if slices.Contains(m.asks(), one.ask) {
			l.add(careLine, "", one.text)
			l.ask(one.ask, one.label)
		}
	}
	if !slices.Contains(m.asks(), askSound) {
		l.add(valueLine, "", m.soundLine())
	}
	l.add(valueLine, "", "Electricity: the laptop stands on the dry side, behind a residual-current device.")
	return l.list
}

// room is what is checked last, and what the big key does then.
func (m checklist) room() []line {
	l, big := lister{section: roomSection}, m.big
	if m.plan.HasDark() {
		l.add(valueLine, "", "Check phones, watches, indicator LEDs, the gap under the door.")
		l.add(valueLine, "", "Rehearse the order: touch the baths once, as if in the dark.")
	}
	text := big + " begins."
	switch {
	case first(m.plan) == sequence.Dark:
		text = big + ": the screen goes black. Load the film, then press twice to begin."
	case first(m.plan) == sequence.Safelight:
		text = "The screen is as dim as can be read. Load the film by safelight, then " + big + " begins."
	}
	if a, open := m.open(); open {
		text = "First " + a.short()
	}
	l.add(strongLine, "", text)
	return l.list
}

// soundLine is what is known of the sound where nothing is asked about it.
func (m checklist) soundLine() string {
	if m.sound == "" || m.hasSound() {
		return say.Sentence(m.sound)
	}
	return say.NoSound(m.sound)
}
