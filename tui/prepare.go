package tui

// Preparing: what to mix and when, the order of the trays, what to see to; then
// the big key. Where the first step is dark it darkens the screen for loading,
// and two presses begin.

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// A plan with a danger asks askDanger, by a key of its own: the big key, which a wet hand
// finds without looking, is no answer to it. A session with a dark step asks the others
// before film is opened, one press of the big key for the first answer.
const (
	askDanger = "Danger: %s. y: go on in spite of it, esc: change the plan"

	askPanel = "Is the panel covered, measured off, or the laptop outside? %s: covered, o: measured off, l: outside"
	askBlack = "The terminal did not say that its background is black; a resize may flash. %s: accepted"
	askSound = "There is no sound. %s: go on without"
	// askRoom is asked by the press that begins, or that makes the screen black.
	askRoom = "Phone, watch and lamps dark, door tight, baths known by touch, thermometer read? "
)

// answers are what is recorded of them, by the key that gives the answer.
var answers = map[string]map[keyAction]string{
	askDanger: {acceptIt: "danger accepted"},
	askPanel:  {bigKeyAction: "panel covered", measuredOff: "panel measured off", outside: "laptop outside the room"},
	askBlack:  {bigKeyAction: "background not confirmed black, accepted"},
	askSound:  {bigKeyAction: "no sound, accepted"},
	askRoom:   {bigKeyAction: "phone, watch, lamps, door, the order of the baths and the thermometer seen to"},
}

type prepareModel struct {
	plan    *sequence.Plan
	mix     []prepLine
	order   []prepLine
	see     []prepLine
	first   int // row at the top
	asks    []string
	answers []string
	bigKey  string
}

func newPrepare(p *sequence.Plan, sound string, o Options) prepareModel {
	m := prepareModel{plan: p, bigKey: o.bigName(), mix: mixing(p, o.Defaults.Units), order: setOut(p, o.Defaults.Units), see: beforeStart(p, sound, o.Defaults.Units)}
	if len(planning.Dangers(p)) > 0 && !o.RehearseDark { // a rehearsal wets no film
		m.asks = append(m.asks, askDanger)
	}
	if p.HasDark() {
		m.asks = append(m.asks, askPanel)
		if o.BlackUnconfirmed {
			m.asks = append(m.asks, askBlack)
		}
		if !strings.HasPrefix(sound, "sound") {
			m.asks = append(m.asks, askSound)
		}
	}
	return m
}

func (p prepareModel) darkFirst() bool { return p.plan.Steps[0].RoomLight == sequence.Dark }

// mixing says what to measure for each bath that the plan uses, or which bottle to
// take, with what it does to people; what stands for all of them last.
func mixing(p *sequence.Plan, h sequence.Units) []prepLine {
	list := []prepLine{{"Mix", strong}}
	for i := range p.Recipe.Baths {
		b := &p.Recipe.Baths[i]
		if k, ok := p.OpenBottle(b.ID); ok {
			list = append(list, prepLine{"  " + b.ID + ": from the bottle " + k.Bottle + ", " + say.BottleFacts(k), text})
			if line := say.CapacityUsed(p, b); line != "" {
				list = append(list, prepLine{"    " + line, text})
			}
		} else {
			list = append(list, prepLine{"  " + b.ID + ": " + amounts(*b, h), text})
			if b.WorkingLife > 0 {
				list = append(list, prepLine{"    once mixed it keeps for " + sequence.FormatElapsed(b.WorkingLife) + ": mix it last", dim})
			}
			list = append(list, drawn(p, b.ID, h)...)
		}
		for _, c := range say.HazardsIn(&p.Recipe, b) {
			if c != say.SafetyReminder {
				list = append(list, prepLine{"    " + c, dim})
			}
		}
	}
	for _, b := range planning.MixedByLabel(p) {
		list = append(list, prepLine{"  " + say.ByLabel(b, h), text})
	}
	if len(list) == 1 {
		return nil
	}
	return append(list, prepLine{"  " + say.SafetyReminder, dim}, prepLine{})
}

// drawn is what a bath mixed fresh takes from the stock in hand.
func drawn(p *sequence.Plan, bath string, h sequence.Units) []prepLine {
	var list []prepLine
	for _, d := range planning.Withdrawals(p) {
		if d.Bath != bath {
			continue
		}
		l := text
		if d.Short > 0 {
			l = strong
		}
		list = append(list, prepLine{"    takes " + safetext.Clean(say.Withdrawal(d, h)), l})
	}
	return list
}

// amounts is how much of each part makes the bath's volume.
func amounts(b sequence.Bath, h sequence.Units) string {
	if b.Volume == 0 {
		return "as usual"
	}
	var parts []string
	for _, a := range b.Amounts() {
		parts = append(parts, a.Name+" "+say.Volume(a.Volume, h))
	}
	if len(parts) == 0 {
		return say.Volume(b.Volume, h)
	}
	return strings.Join(parts, ", ")
}

// setOut is the order of the baths, as they stand from left to right, with the
// time in each and the vessel where it changes.
func setOut(p *sequence.Plan, h sequence.Units) []prepLine {
	list := []prepLine{{"Set out, in this order", strong}}
	name, bath := 0, 0
	for i := range p.Steps {
		name, bath = max(name, len([]rune(p.Steps[i].Name))), max(bath, len([]rune(p.Steps[i].Bath)))
	}
	const widest = 14
	name, bath = min(name, widest), min(bath, widest)
	likened := false // water is to be as warm as the developer
	vessel := sequence.Vessel("")
	for i := range p.Steps {
		st := &p.Steps[i]
		line := fmt.Sprintf(" %2d  %-*s %7s  %-*s", i+1, name, cut(st.Name, name), sequence.FormatElapsed(st.Given), bath, cut(st.Bath, bath))
		warmth := ""
		if st.Temperature != nil {
			warmth = say.Temperature(*st.Temperature, h)
		} else if t, ok := planning.WaterAt(p, i); ok {
			warmth, likened = say.Temperature(t, h), true
		}
		if slices.ContainsFunc(p.Steps, func(s sequence.PlanStep) bool { return s.Temperature != nil }) {
			line += fmt.Sprintf("  %-6s", warmth)
		}
		if st.Vessel != vessel {
			line += "  " + string(st.Vessel)
			vessel = st.Vessel
		}
		if moving := withMoving(p, i); moving != "" {
			line = strings.TrimRight(line, " ") + "  " + moving
		}
		list = append(list, prepLine{strings.TrimRight(line, " "), text})
		if how := say.Washing(p, i, h); how != "" {
			list = append(list, prepLine{"     " + how, dim})
		}
		if st.Note != "" {
			list = append(list, prepLine{"     " + st.Note, dim})
		}
		if sequence.WaitsInWater(p, i) {
			list = append(list, prepLine{"     " + say.WaterTray, text})
		}
	}
	if likened {
		list = append(list, prepLine{"     all within " + say.Difference(planning.BathSpread, h) + " of each other", dim})
	}
	return append(list, prepLine{})
}

// withMoving is how long a sheet is in a step where moving the others adds to what each is
// given, as the summary has it; "" where it does not.
func withMoving(p *sequence.Plan, i int) string {
	if d := p.WithMoving(i); d-p.Steps[i].Given > minShownChange && len(p.Steps[i].Doses) == 0 {
		return "(" + sequence.FormatElapsed(d) + " with moving)"
	}
	return ""
}

// beforeStart is what is seen to before film is opened. What to know of the baths
// stands where they are mixed.
func beforeStart(p *sequence.Plan, sound string, h sequence.Units) []prepLine {
	list := []prepLine{{"See to", strong},
		{"  the thermometer: what does the developer read now?", text},
		{"  electricity: the laptop on the dry side, behind a residual-current device", text},
		{"  " + sound, text}}
	if p.HasDark() {
		list = append(list, prepLine{"  light: phone, watch, lamps of power supplies and devices, the gap under the door", text},
			prepLine{"  the way: touch the baths once, in their order, with the light out in mind", text},
			prepLine{"  the laptop: its black panel still glows; cover it or leave it outside", text})
	}
	for _, c := range say.Cautions(p, h) {
		if c.Code != "chemistry" {
			list = append(list, prepLine{"  " + string(c.Level) + ": " + c.Text, levelOf[c.Level]})
		}
	}
	return list
}

// columns are the rows of the left and the right column: all in the left one where
// there is no room for two.
func (p prepareModel) columns(l prepLayout) (left, right []prepLine) {
	const arrow = 2
	if l.right.w > 0 {
		left, right = broken(p.mix, l.left.w-arrow), broken(append(p.order[:len(p.order):len(p.order)], p.see...), l.right.w-arrow)
		if len(p.mix) > 0 && max(len(left), len(right)) <= l.left.h {
			return left, right
		}
	}
	return broken(slices.Concat(p.mix, p.order, p.see), min(l.left.w, textWidth)-arrow), nil
}

func (m Model) preparingKey(a keyAction) (tea.Model, tea.Cmd) {
	p := &m.prep
	switch a {
	case up, down:
		by := 1
		if a == up {
			by = -1
		}
		l := p.layout(frameOf(m.w, m.h, 1).body)
		rows, _ := p.columns(l)
		p.first = scroll(rows, l.left.h, p.first+by)
	case goBack:
		m.screen = planScreen
	case quit:
		return m, tea.Quit
	case bigKeyAction:
		var t pressKind
		if m.bigPress, t = m.bigPress.press(m.o.Now()); t == samePress {
			return m, nil
		}
		return m.ready()
	case measuredOff, outside, acceptIt:
		m.prep = m.prep.answered(a)
	}
	return m, nil
}

// answered takes a key as the answer to the next question, where it is one.
func (p prepareModel) answered(a keyAction) prepareModel {
	n := len(p.answers)
	if n >= len(p.asks) {
		return p
	}
	if text, ok := answers[p.asks[n]][a]; ok {
		if a == acceptIt {
			for _, c := range planning.Dangers(p.plan) {
				text += "; " + say.Caution(c, p.plan, sequence.Units{})
			}
		}
		p.answers = append(p.answers[:n:n], text)
	}
	return p
}

// ready answers the next question, or begins: at once where nothing is dark,
// else by darkening the screen. The touch that did it is no first of two.
func (m Model) ready() (tea.Model, tea.Cmd) {
	p := &m.prep
	if len(p.answers) < len(p.asks) {
		m.prep = p.answered(bigKeyAction)
		return m, nil
	}
	if n := len(p.asks); p.plan.HasDark() { // also where the light came back meanwhile
		p.answers = append(p.answers[:n:n], answers[askRoom][bigKeyAction])
	}
	if !p.darkFirst() {
		return m.start(m.o.asWithFilm(SessionStart{Plan: p.plan, Notes: p.answers}))
	}
	m.bigPress, m.menuPress, m.escapePress = m.bigPress.reset(), pressDetector{}, pressDetector{}
	return m.setDark(true)
}

// question is what the big key does next.
func (p prepareModel) question() string {
	switch n := len(p.answers); {
	case n < len(p.asks) && p.asks[n] == askDanger:
		return fmt.Sprintf(askDanger, p.dangers())
	case n < len(p.asks):
		return fmt.Sprintf(p.asks[n], p.bigKey)
	case p.darkFirst():
		return askRoom + p.bigKey + ": the screen goes black. Load; then press twice to begin."
	case p.plan.HasDark():
		return askRoom + p.bigKey + ": begin"
	}
	return p.bigKey + ": begin"
}

// dangers is the gravest danger in words, and how many more there are.
func (p prepareModel) dangers() string {
	list := planning.Dangers(p.plan)
	text := safetext.Clean(say.Caution(list[0], p.plan, sequence.Units{}))
	if more := len(list) - 1; more > 0 {
		text += fmt.Sprintf(" (and %d more, below)", more)
	}
	return text
}

func (p prepareModel) layout(body rect) prepLayout {
	return prepOf(body, len(wrapText(p.question(), body.w)))
}

func (p prepareModel) draw(g grid, f frame) {
	g.text(f.head, "Prepare: "+safetext.Clean(p.plan.Recipe.Title), strong)
	l := p.layout(f.body)
	g.wrap(l.question, p.question(), bright)
	left, right := p.columns(l)
	g.scrolled(l.left, left, p.first)
	g.scrolled(l.right, right, 0)
}
