package tui

// Planning: today's conditions, changed in place, and what they make of the plan.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

type planModel struct {
	name          string
	recipe        sequence.Recipe
	conditions    sequence.RawConditions
	bottles       []sequence.OpenBottle // bottles that stand open for its baths
	stock         []sequence.Stock
	plan          *sequence.Plan // the last that could be made
	strip         timeline
	fault         string // why the words as they are make no plan; "" where they do
	at            int    // the field under the cursor; beyond them, the proposal
	taken         []takenProposal
	observedLimit string           // what notes on the emulsion speak for; "" for nothing
	rounds        []planning.Round // of all sheets; nil where they are one session's
	round         int              // the one that is planned
}

// field is one condition.
type field struct {
	label   string
	of      func(*sequence.RawConditions) *string
	usual   func(*sequence.Plan, sequence.Units) string // what holds where nothing is typed
	choices func(*planModel) []string                   // nil where it is typed
	step    float64                                     // what left and right add; 0 for nothing
	planned bool                                        // what holds follows from the plan, not from the recipe alone
}

var fields = []field{
	{label: "temperature", of: func(w *sequence.RawConditions) *string { return &w.Temp }, usual: usualTemperature, step: 0.5},
	{label: "settles at", of: func(w *sequence.RawConditions) *string { return &w.SettlesAt }, usual: same("does not drift"), step: 0.5},
	{label: "time constant", of: func(w *sequence.RawConditions) *string { return &w.TimeConstant }, usual: same("-")},
	{label: "sheets", of: func(w *sequence.RawConditions) *string { return &w.Sheets },
		usual: func(p *sequence.Plan, _ sequence.Units) string { return strconv.Itoa(p.Sheets) }, step: 1, planned: true},
	{label: "in all", of: func(w *sequence.RawConditions) *string { return &w.TotalSheets }, usual: same("one session"), step: 1},
	{label: "vessel", of: func(w *sequence.RawConditions) *string { return &w.Vessel },
		usual: func(p *sequence.Plan, _ sequence.Units) string { return string(p.Recipe.Load.Vessel) }, choices: vessels},
	{label: "development", of: func(w *sequence.RawConditions) *string { return &w.Development }, usual: same("N"), choices: developments},
	{label: "factor", of: func(w *sequence.RawConditions) *string { return &w.Factor }, usual: same("1"), step: 0.05},
	{label: "wet limit", of: func(w *sequence.RawConditions) *string { return &w.WetLimit }, usual: usualLimit, planned: true},
	{label: "clearing time", of: func(w *sequence.RawConditions) *string { return &w.Clearing }, usual: same("not measured")},
	{label: "baths", of: func(w *sequence.RawConditions) *string { return &w.Bottles }, usual: usualBaths, choices: drawnOn, planned: true},
}

func same(s string) func(*sequence.Plan, sequence.Units) string {
	return func(*sequence.Plan, sequence.Units) string { return s }
}

func usualTemperature(p *sequence.Plan, h sequence.Units) string {
	for i := range p.Steps {
		if w := p.Steps[i].TimeByTemperature; w != nil {
			return say.Temperature(w.At, h)
		}
	}
	return "not used"
}

func usualLimit(p *sequence.Plan, _ sequence.Units) string {
	if d, ok := p.Recipe.Film.WetLimit.For(p.Vessel); ok {
		return sequence.FormatElapsed(d)
	}
	if own := p.Conditions.OwnLimit; own != nil {
		if d, ok := own.For(p.Vessel); ok {
			return sequence.FormatElapsed(d) + ", your own"
		}
	}
	return "not known"
}

// usualBaths are the bottles that the plan draws on.
func usualBaths(p *sequence.Plan, _ sequence.Units) string {
	var names []string
	for _, k := range p.Conditions.OpenBottles {
		names = append(names, safetext.Clean(k.Bottle))
	}
	if len(names) == 0 {
		return "mixed fresh"
	}
	return "from " + strings.Join(names, ", ")
}

// drawnOn are the choices of baths: the newest of each, older ones that could serve
// by their names, none. There is no choice where no bottle stands open.
func drawnOn(p *planModel) []string {
	list := []string{""}
	if len(p.bottles) == 0 {
		return list
	}
	newest := map[string]bool{}
	for _, k := range p.bottles {
		if newest[k.Bath] {
			list = append(list, k.Bottle)
		}
		newest[k.Bath] = true
	}
	return append(list, sequence.FreshBathsWord)
}

func vessels(*planModel) []string {
	list := []string{""}
	for _, v := range sequence.Vessels {
		list = append(list, string(v))
	}
	return list
}

// developments are the recipe's, "" for the usual one; none where it has one only.
func developments(p *planModel) []string {
	list := []string{""}
	for _, st := range p.recipe.Steps {
		for _, t := range st.Times {
			list = append(list, t.Name)
		}
	}
	return list
}

func newPlan(h Backend, name string, w sequence.RawConditions) (planModel, error) {
	r, err := h.Recipe(name)
	if err != nil {
		return planModel{}, err
	}
	p := planRecipe(h, name, r, w)
	if p.plan == nil {
		return p, fmt.Errorf("%s: %s", name, p.fault)
	}
	return p, nil
}

// planRecipe plans a recipe with the bottles that it draws on.
func planRecipe(h Backend, name string, r sequence.Recipe, w sequence.RawConditions) planModel {
	p := planModel{name: name, recipe: r, conditions: w, bottles: h.OpenBottlesFor(r), stock: planning.StockUsed(&r, h.Stock())}.again()
	if p.plan != nil {
		p.observedLimit = h.ObservedLimit(r.Film.Name, p.plan.Vessel)
	}
	return p
}

// planAgain plans a session once more, with what was chosen for it and what its result
// asks for. The temperature is today's.
func (m Model) planAgain(s *notebook.Session) Model {
	words := m.o.Defaults.Or(s.Plan.Conditions.Retyped())
	note := "as on " + s.Day() + "; read the temperature anew"
	if c, ok := s.Correction(); ok {
		words.Factor = c.Of(s.Plan.Conditions)
		note = "factor " + words.Factor + ": " + c.Why
	}
	p := planRecipe(m.o.Backend, s.ID, s.Plan.Recipe, words)
	if p.plan == nil {
		return m.showError(p.fault)
	}
	m.plan, m.screen, m.subscreens = p, planScreen, nil
	return m.showMessage(note)
}

// again makes the plan anew; what makes none is said, and the last one is kept unseen for
// what it says of the fields.
func (p planModel) again() planModel {
	c, err := p.conditions.Conditions()
	c.Stock = p.stock
	if err == nil {
		c.OpenBottles, err = bottles.Choose(p.conditions, p.bottles)
	}
	if err == nil {
		p, c, err = p.divided(c)
	}
	if err == nil {
		var plan sequence.Plan
		if plan, err = planning.Resolve(p.recipe, c); err == nil {
			p.plan, p.strip, p.fault = &plan, planTimeline(&plan), ""
			p.at = min(p.at, p.stops()-1)
			return p
		}
	}
	p.fault = err.Error()
	return p
}

func (m Model) planningKey(key string) (tea.Model, tea.Cmd) {
	before := m.plan.plan.Vessel
	switch actionOf(planScreen, key) {
	case up:
		m.plan.at = (m.plan.at + m.plan.stops() - 1) % m.plan.stops()
	case down:
		m.plan.at = (m.plan.at + 1) % m.plan.stops()
	case shorten:
		m = m.shorten()
	case startAt:
		m = m.startAsProposed()
	case undo:
		m = m.undoProposal()
	case left:
		m.plan = m.plan.change(-1)
	case right:
		m.plan = m.plan.change(1)
	case goBack:
		m.screen = recipeListScreen
	case quit:
		return m, tea.Quit
	case enter, rehearse:
		return m.planned(actionOf(planScreen, key) == rehearse)
	default:
		m.plan = m.plan.typed(key)
	}
	if m.plan.fault != "" {
		m = m.showError(m.plan.fault)
	} else if m.plan.plan.Vessel != before {
		m = m.saysVessel()
	}
	return m, nil
}

// saysVessel says at once that the time was not found for the vessel just chosen.
func (m Model) saysVessel() Model {
	for _, c := range m.plan.plan.Cautions {
		if c.Code == "other-vessel" {
			return m.showMessage(say.Caution(c, m.plan.plan, m.plan.conditions.Units))
		}
	}
	return m
}

// stops is how many places the cursor has: the conditions, then what is proposed.
func (p planModel) stops() int { return len(fields) + len(p.proposals()) }

// planned goes on to preparation, or to a rehearsal.
func (m Model) planned(rehearsal bool) (tea.Model, tea.Cmd) {
	if m.plan.fault != "" {
		return m.showError(m.plan.fault), nil
	}
	if rehearsal {
		return m.start(SessionStart{Plan: m.plan.plan, RehearsalSpeed: m.o.speed()})
	}
	m.prep, m.screen = newPrepare(m.plan.plan, m.o.Backend.Sound(), m.o), prepareScreen
	return m, nil
}

// change steps a number or a choice.
func (p planModel) change(by int) planModel {
	if p.at >= len(fields) {
		return p
	}
	f := fields[p.at]
	word := f.of(&p.conditions)
	if f.choices != nil {
		list := f.choices(&p)
		now := 0
		for i, c := range list {
			if c == *word {
				now = i
			}
		}
		*word = list[(now+by+len(list))%len(list)]
		return p.again()
	}
	if f.step == 0 {
		return p
	}
	*word = stepped(*word, f.usual(p.plan, p.conditions.Units), float64(by)*f.step)
	return p.again()
}

// stepped is a number as typed, or the usual one where none is, changed by a step.
// Its unit stays, and when it was read; what is no number stays as it is.
func stepped(typed, usual string, by float64) string {
	from := typed
	if from == "" {
		from = usual
	}
	number, _, _ := strings.Cut(from, "@")
	number = strings.TrimRight(number, "°CFcf ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return typed
	}
	const fine = 1e6 // steps add up without a tail of digits
	changed := strconv.FormatFloat(math.Round((x+by)*fine)/fine, 'f', -1, 64)
	if typed == "" {
		return changed
	}
	return changed + typed[len(number):]
}

// longestWord is as much as can be typed into one field.
const longestWord = 16

// typed edits the word under the cursor.
func (p planModel) typed(key string) planModel {
	if p.at >= len(fields) {
		return p
	}
	f := fields[p.at]
	if f.choices != nil {
		return p
	}
	word := f.of(&p.conditions)
	switch {
	case key == "backspace":
		if *word == "" {
			return p
		}
		*word = (*word)[:len(*word)-1]
	case len(key) == 1 && key[0] > ' ' && key[0] < 0x7f && len(*word) < longestWord:
		*word += key
	default:
		return p
	}
	return p.again()
}

func (p planModel) draw(g grid, f frame) {
	g.text(f.head, safetext.Clean(p.recipe.Title), strong)
	l := planOf(f.body, len(fields))
	first := max(0, min(min(p.at, len(fields)-1)-l.fields.h/2, len(fields)-l.fields.h))
	for i := first; i < len(fields) && i-first < l.fields.h; i++ {
		p.drawField(g, l.fields.row(i-first), i, fields[i])
	}
	if first > 0 {
		g.right(l.fields.row(0), "↑", dim)
	}
	if first+l.fields.h < len(fields) {
		g.right(l.fields.row(l.fields.h-1), "↓", dim)
	}
	if p.fault != "" {
		return // the last plan's figures are not those of what is typed
	}
	p.strip.draw(g, l.strip)
	sums, grave, know := p.sums(), cautionLines(p.plan, p.conditions.Units, true), cautionLines(p.plan, p.conditions.Units, false)
	for i := range min(l.sums.h, len(sums)) {
		g.text(l.sums.row(i), safetext.Clean(sums[i].text), sums[i].l)
	}
	if l.know.w > 0 {
		g.paragraphs(l.side, sections(sums, p.shortenings()))
		g.paragraphs(l.know, append(grave, know...))
		return
	}
	g.paragraphs(l.side, sections(sums, grave, p.shortenings(), know))
}

func (p planModel) drawField(g grid, r rect, i int, f field) {
	const label = 14
	value, l := *f.of(&p.conditions), strong
	if value == "" {
		value, l = p.usual(f), text
	}
	if i == p.at {
		g.set(r.x, r.y, '█', bright)
		l = bright
		if f.choices == nil && *f.of(&p.conditions) != "" {
			value += cursor
		}
	}
	in := r.beside(2)
	g.text(in.narrowed(label), f.label, dim)
	g.text(in.beside(label), value, l)
}

// usual is what holds where nothing is typed into a field; nothing where that is the
// plan's to say and there is none.
func (p planModel) usual(f field) string {
	if p.fault != "" && f.planned {
		return ""
	}
	return f.usual(p.plan, p.conditions.Units)
}

// sums is what the conditions come to: wet time, then developing.
func (p planModel) sums() []prepLine {
	wet := prepLine{say.WetTime(p.plan), text}
	if w := p.plan.Wet; w.Margin != nil && *w.Margin < 0 {
		wet.l = bright
	}
	list := []prepLine{wet}
	for i := range p.plan.Steps {
		st := &p.plan.Steps[i]
		if st.Kind != sequence.Develop {
			continue
		}
		line := say.DevelopTime(st, p.conditions.Units)
		list = append(list, prepLine{line, strong})
	}
	if from := p.recipe.Origin(); from != "" {
		list = append(list, prepLine{"found by a film test: " + from, dim})
	}
	if p.observedLimit != "" {
		list = append(list, prepLine{p.observedLimit, dim})
	}
	if line := p.roundLine(); line != "" {
		list = append(list, prepLine{line, text})
	}
	return list
}

var levelOf = map[sequence.Level]brightness{sequence.Danger: bright, sequence.Care: strong, sequence.Note: dim}

// cautionLines is what to know of a plan: the dangers, or the rest. What the wet
// time comes to is told already.
func cautionLines(p *sequence.Plan, h sequence.Units, danger bool) []prepLine {
	var list []prepLine
	for _, c := range say.Cautions(p, h) {
		if (c.Level == sequence.Danger) != danger || c.Code == "wet-limit" || c.Code == "wet-warning" {
			continue
		}
		line := string(c.Level) + ": " + c.Text
		if c.Code == "start-at" {
			line += " (= uses the suggested temperature)"
		}
		list = append(list, prepLine{line, levelOf[c.Level]})
	}
	return list
}
