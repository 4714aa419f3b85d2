// Package plan is today's plan of a recipe: the answer, the conditions that it follows from,
// which are changed in place, the steps, and what would shorten the wet time.
package plan

import (
	"cmp"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipe(name string) (sequence.Recipe, error)
	OpenBottlesFor(sequence.Recipe) []sequence.OpenBottle // what a recipe can draw on, of each bath the newest first
	Stock() []sequence.Stock                              // bottles of the parts that baths are mixed from
	Sound() string                                        // whether there is sound, before a session
	// WetTrials is how the film was wet in a vessel, in sessions after which its emulsion was noted.
	WetTrials(film string, v sequence.Vessel) []notebook.WetTrial
	KnownOf(name string) []film.Known // all that is known of a film
	// SessionScatter is how the person's sessions differ; nil where they are too few.
	SessionScatter() *sequence.SessionScatter
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env

	name      string                 // by which it was opened
	opened    sequence.RawConditions // as the screen was opened with
	form      form
	trials    trialsMsg
	risk      wetRisk
	filmTime  filmTime
	rehearsal *choice // how to rehearse is being chosen; nil while it is not
	leaving   bool    // a question stands whether to leave
	reading   bool    // all that follows is read, in place of the form
	first     int     // row of it at the top
	read      *extent // the window in which it was last drawn
}

// extent is how large a window is.
type extent struct{ w, h int }

// trialsMsg is how the film was wet in a vessel before.
type trialsMsg struct {
	vessel sequence.Vessel
	list   []notebook.WetTrial
}

// Messages about the film.
type (
	knownMsg   []film.Known
	offeredMsg struct {
		plan  *sequence.Plan
		offer *film.Offer // nil where nothing is known
	}
)

// Start has all read that is known of the film.
func (m Model) Start() tea.Cmd {
	return func() tea.Msg { return knownMsg(m.b.KnownOf(m.form.recipe.Film.Name)) }
}

// filmTime is the film's own time beside the recipe's.
type filmTime struct {
	known   []film.Known // of the recipe's film
	offered offeredMsg   // of the plan as it is now, or nothing is shown of it
}

// worksOut has it worked out for the plan as it is now.
func (t filmTime) worksOut(plan *sequence.Plan) tea.Cmd {
	known, before := t.known, t.offered.offer
	if len(known) == 0 {
		return nil
	}
	return func() tea.Msg { return offeredMsg{plan, film.OfferTime(known, plan, before)} }
}

// of is it for the plan that a form makes; nil where there is none.
func (t filmTime) of(f form) *film.Offer {
	if f.broken() || t.offered.plan != f.plan {
		return nil
	}
	return t.offered.offer
}

// wetRisk is what trials say of a plan, worked out once for it.
type wetRisk struct {
	plan *sequence.Plan
	text string
}

// weighed is the screen with the risk of the plan as it is now.
func (m Model) weighed() Model {
	if p := m.form.plan; p != m.risk.plan || m.trials.vessel != p.Vessel {
		m.risk = wetRisk{plan: p}
		if m.trials.vessel == p.Vessel {
			m.risk.text = say.WetRisk(p, m.trials.list, m.form.conditions.Units)
		}
	}
	return m
}

// New makes it; it errs where what it is opened with makes no plan.
func New(b Backend, env screen.Env, open screen.OpenPlan) (Model, error) {
	m := Model{b: b, env: env, name: open.Name, read: &extent{}}
	d := draft{conditions: open.Conditions, round: open.Round}
	if open.Recipe != nil {
		d.recipe = *open.Recipe
	} else {
		r, err := b.Recipe(open.Name)
		if err != nil {
			return m, err
		}
		d.recipe = r
	}
	d.conditions.Units = env.Defaults.Units
	d.conditions.OwnLimit = cmp.Or(d.conditions.OwnLimit, env.Defaults.OwnLimit)
	d.conditions.Thermometers = cmp.Or(d.conditions.Thermometers, env.Defaults.Thermometers)
	if d.conditions.OwnSessions == nil {
		d.conditions.OwnSessions = b.SessionScatter()
	}
	m.opened = d.conditions
	if d = d.drawnOn(b).resolved(); d.plan == nil {
		return m, fmt.Errorf("%s: %s", open.Name, d.fault.text)
	}
	m.form = m.form.of(d)
	m.trials = trialsMsg{d.plan.Vessel, b.WetTrials(d.recipe.Film.Name, d.plan.Vessel)}
	return m.weighed(), nil
}

// Renew reads the bottles anew: their screen may have been over this one.
func (m Model) Renew() (screen.Screen, tea.Cmd) {
	m.form = m.form.of(m.form.drawnOn(m.b).resolved())
	return m.weighed(), m.Start()
}

// Unsaved reports whether leaving would lose what was typed or taken over.
func (m Model) Unsaved() bool { return m.form.conditions != m.opened || len(m.form.applied) > 0 }

// Next is how the round that follows this one is planned; false where there is none.
func (m Model) Next() (screen.OpenPlan, bool) { return m.form.next() }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case knownMsg:
		m.filmTime.known = msg
		return m, nil, m.filmTime.worksOut(m.form.plan)
	case offeredMsg:
		if msg.plan == m.form.plan {
			m.filmTime.offered = msg
		}
		return m, nil, nil
	case trialsMsg:
		if msg.vessel == m.form.plan.Vessel {
			m.trials, m.risk = msg, wetRisk{}
		}
	case screen.MeasuredMsg:
		m.form = m.form.of(m.form.with(fieldOf("developer temp."), msg.Temperature))
		return m.weighed(), nil, m.filmTime.worksOut(m.form.plan)
	case tea.KeyMsg:
		return m.pressed(msg)
	}
	return m.weighed(), nil, nil
}

// pressed carries out a key, and says at once where the time was not found for the vessel
// just chosen.
func (m Model) pressed(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	before, was := m.form.plan, m.form.plan.Vessel
	m, action := m.key(k)
	m = m.weighed()
	var offers tea.Cmd
	if m.form.plan != before {
		offers = m.filmTime.worksOut(m.form.plan)
	}
	now := m.form.plan.Vessel
	if now == was {
		return m, action, offers
	}
	ask := tea.Batch(func() tea.Msg { return trialsMsg{now, m.b.WetTrials(m.form.recipe.Film.Name, now)} }, offers)
	if other := m.form.otherVessel(); action == nil && other != "" {
		action = screen.Message{Text: other}
	}
	return m, action, ask
}
