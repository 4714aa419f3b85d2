package tui

// Opening: the sessions that were cut off, then the recipes.

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

type recipeListModel struct {
	unfinished []Unfinished
	recipes    []recipes.Entry
	newcomer   bool
	usual      sequence.RawConditions // where nothing is typed
	at         int
	strip      *timeline // of the recipe chosen; nil where it cannot be planned
	about      []prepLine
	asks       bool // whether the session chosen is to be taken over
}

func newRecipeList(opts Options) recipeListModel {
	h := opts.Backend
	o := recipeListModel{usual: opts.Defaults, unfinished: offered(h.Unfinished()), recipes: h.Recipes(), newcomer: h.FirstRun()}
	if at := o.first(h, opts.speed()); o.newcomer && at >= 0 {
		return o.choose(h, at)
	}
	return o.choose(h, o.start())
}

// firstRehearsal is how long a newcomer's rehearsal takes at most.
const firstRehearsal = 55 * time.Second

// first is a recipe that rehearses by itself within that time; -1 for none.
func (o recipeListModel) first(h Backend, speed float64) int {
	if len(o.unfinished) > 0 {
		return -1
	}
	return slices.IndexFunc(o.recipes, func(e recipes.Entry) bool {
		r, err := h.Recipe(e.Name)
		if err != nil || slices.ContainsFunc(r.Steps, func(s sequence.Step) bool { return s.WaitForPerson }) {
			return false
		}
		plan, err := planning.Resolve(r, sequence.Conditions{})
		return err == nil && float64(plan.Wet.Session) <= float64(firstRehearsal)*speed
	})
}

// offered leaves out rehearsals but the newest: many may lie about.
func offered(list []Unfinished) []Unfinished {
	var kept []Unfinished
	rehearsed := false
	for _, u := range list {
		if !u.Rehearsal || !rehearsed {
			kept = append(kept, u)
		}
		rehearsed = rehearsed || u.Rehearsal
	}
	return kept
}

// start is the line the cursor stands on first: a session that was cut off, else a
// recipe that can be used.
func (o recipeListModel) start() int {
	if len(o.unfinished) > 0 {
		return 0
	}
	return max(0, slices.IndexFunc(o.recipes, func(e recipes.Entry) bool { return e.Fault == nil }))
}

// rows is how many lines can be chosen.
func (o recipeListModel) rows() int { return len(o.unfinished) + len(o.recipes) }

// recipe is the recipe chosen; false where a session is.
func (o recipeListModel) recipe() (recipes.Entry, bool) {
	i := o.at - len(o.unfinished)
	if i < 0 || i >= len(o.recipes) {
		return recipes.Entry{}, false
	}
	return o.recipes[i], true
}

// on moves the cursor to the recipe of that name, where there is one.
func (o recipeListModel) on(h Backend, name string) recipeListModel {
	if i := slices.IndexFunc(o.recipes, func(e recipes.Entry) bool { return e.Name == name }); i >= 0 {
		return o.choose(h, len(o.unfinished)+i)
	}
	return o
}

// choose moves the cursor and plans what it stands on, for its strip.
func (o recipeListModel) choose(h Backend, at int) recipeListModel {
	o.at = min(max(0, at), max(0, o.rows()-1))
	o.strip, o.about = nil, nil
	if o.rows() == 0 {
		return o
	}
	e, ok := o.recipe()
	if !ok {
		o.about = []prepLine{{o.unfinished[o.at].about(), text}}
		return o
	}
	var plan sequence.Plan
	err := e.Fault
	if err == nil {
		var r sequence.Recipe
		if r, err = h.Recipe(e.Name); err == nil {
			plan, err = planning.Resolve(r, sequence.Conditions{OwnLimit: o.usual.OwnLimit})
		}
	}
	if err != nil {
		o.about = lined(err.Error(), strong)
		return o
	}
	s := planTimeline(&plan)
	o.strip, o.about = &s, append(lined(e.About, dim), prepLine{}, prepLine{say.WetTime(&plan), text})
	return o
}

// about is how a session without an end stands, and what enter does.
func (u Unfinished) about() string {
	switch {
	case u.Running:
		return "Another wetside carries this session out now. Enter asks whether to take it over."
	case u.Elsewhere:
		return "This session began on another laptop and may go on there. Enter asks whether to take it over."
	}
	return "This session was cut off. Enter takes it up where it is now."
}

// takeOver is what enter asks of a session that goes on elsewhere, or may.
func (u Unfinished) takeOver() (string, bool) {
	switch {
	case u.Running:
		return "Another wetside carries it out: take it over here? y: yes; any other key: no", true
	case u.Elsewhere:
		return "It may go on on the other laptop, which would not know: take it over here? y: yes; any other key: no", true
	}
	return "", false
}

func (m Model) openingKey(a keyAction) (tea.Model, tea.Cmd) {
	asked := m.list.asks
	m.list.asks = false
	switch a {
	case acceptIt:
		if asked {
			return m.resume(m.list.unfinished[m.list.at].ID)
		}
	case up:
		m.list = m.list.choose(m.o.Backend, m.list.at-1)
	case down:
		m.list = m.list.choose(m.o.Backend, m.list.at+1)
	case quit:
		return m, tea.Quit
	case edit:
		return m.editChosen()
	case listen:
		return m.enterSounds(), nil
	case waitingSheets:
		return m.enterHolders()
	case records:
		return m.enterNotebook()
	case showBottles:
		return m.enterBottles()
	case readings:
		return m.enterDensities(), nil
	case tryFilm:
		return m.enterFilmTest()
	case enter, rehearse:
		if asked {
			return m, nil // no
		}
		return m.openChosen(a == rehearse)
	}
	return m, nil
}

// openChosen opens the recipe under the cursor, or takes up the session.
func (m Model) openChosen(rehearsal bool) (tea.Model, tea.Cmd) {
	e, ok := m.list.recipe()
	if !ok {
		if m.list.rows() == 0 {
			return m, nil
		}
		u := m.list.unfinished[m.list.at]
		if question, ask := u.takeOver(); ask {
			m.list.asks = true
			return m.showMessage(question), nil
		}
		return m.resume(u.ID)
	}
	if e.Fault != nil {
		return m.showError(e.Name + " cannot be used as it is; wetside check FILE lists all that is wrong"), nil
	}
	p, err := newPlan(m.o.Backend, e.Name, m.o.Defaults)
	if err != nil {
		return m.showError(err.Error()), nil
	}
	m.plan = p
	if rehearsal {
		return m.start(SessionStart{Plan: p.plan, RehearsalSpeed: m.o.speed()})
	}
	m.screen = planScreen
	return m, nil
}

// usualSpeed is how fast a rehearsal is unless the command line says otherwise.
const usualSpeed = 30

func (o Options) speed() float64 { return cmp.Or(max(0, o.RehearsalSpeed), o.DefaultSpeed, usualSpeed) }

// invitations to a newcomer, the fullest first.
var invitations = []string{"new here? press r: a rehearsal, with no film", "new? r: rehearse without film"}

func (o recipeListModel) draw(g grid, f frame) {
	used := g.text(f.head, "wetside", strong) - f.head.x
	if room := f.head.beside(used + 2); o.newcomer {
		g.right(room, fitting(room.w, invitations...), strong)
	}
	l := listOf(f.body, o.rows())
	g.listed(l.list, o.rows(), o.at, o.line)
	g.paragraphs(l.about, o.about)
	if o.strip != nil && l.strip.h > 0 {
		o.strip.draw(g, l.strip)
	}
}

// line is one line of the list: what it is, and what of it stands at the right.
func (o recipeListModel) line(i int) (string, string, brightness) {
	if i < len(o.unfinished) {
		u := o.unfinished[i]
		what := "began " + say.DayAndTime(u.Began, o.usual.Units)
		if u.Rehearsal {
			what = "rehearsal, " + what
		}
		if u.Elsewhere {
			what = "on another laptop, " + what
		}
		if u.Running {
			return "running: " + u.Recipe, "in another wetside, " + what, strong
		}
		return "unfinished: " + u.Recipe, what, strong
	}
	e := o.recipes[i-len(o.unfinished)]
	name, what := e.Title, fmt.Sprintf("%s, %d", e.Vessel, e.Sheets)
	if e.Fault != nil {
		return e.Name, "cannot be used", text
	}
	if e.IsOwn {
		what = "own, " + what
	}
	return name, what, text
}
