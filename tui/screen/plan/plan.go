// Package plan is today's plan of a recipe: the answer, the conditions that it follows from,
// which are changed in place, the steps, and what would shorten the wet time.
package plan

import (
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipe(name string) (sequence.Recipe, error)
	OpenBottlesFor(sequence.Recipe) []sequence.OpenBottle // what a recipe can draw on, of each bath the newest first
	Stock() []sequence.Stock                              // bottles of the parts that baths are mixed from
	// ObservedLimit is the wet limit that notes on the emulsion speak for, in a sentence; "" for none.
	ObservedLimit(film string, v sequence.Vessel) string
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env

	name               string // by which it was opened
	recipe             sequence.Recipe
	conditions, opened sequence.RawConditions // as typed; as the screen was opened with
	bottles            []sequence.OpenBottle  // that stand open for its baths
	stock              []sequence.Stock
	plan               *sequence.Plan // the last that could be made
	fault              fault          // why the words as they are make no plan

	at       int            // the field under the cursor; beyond them, the way to shorten
	typing   *widget.Prompt // open on the field; nil while nothing is typed
	before   string         // what stood in the field before
	changed  int            // the field that was changed last
	scrolled int            // rows by which the page was moved away from the cursor
	leaving  bool           // a question stands whether to leave
	choosing bool           // how to rehearse is being chosen
	practice int            // the way that is chosen

	taken    []takenWay
	observed observedMsg
	rounds   []planning.Round // of all sheets; nil where they are one session's
	round    int              // the one that is planned
}

// fault is what is wrong with a field; none where it says nothing.
type fault struct {
	field int
	text  string
}

// observedMsg is what notes on the emulsion speak for in a vessel.
type observedMsg struct {
	vessel sequence.Vessel
	text   string
}

// New makes it; it errs where what it is opened with makes no plan.
func New(b Backend, env screen.Env, open screen.OpenPlan) (Model, error) {
	m := Model{b: b, env: env, name: open.Name, conditions: open.Conditions, round: open.Round}
	if open.Recipe != nil {
		m.recipe = *open.Recipe
	} else {
		r, err := b.Recipe(open.Name)
		if err != nil {
			return m, err
		}
		m.recipe = r
	}
	m.conditions.Units = env.Defaults.Units
	if m.conditions.OwnLimit == nil {
		m.conditions.OwnLimit = env.Defaults.OwnLimit
	}
	m.opened = m.conditions
	m = m.drawnOn().again()
	if m.plan == nil {
		return m, fmt.Errorf("%s: %s", open.Name, m.fault.text)
	}
	m.observed = observedMsg{m.plan.Vessel, b.ObservedLimit(m.recipe.Film.Name, m.plan.Vessel)}
	return m, nil
}

// drawnOn reads which bottles there are.
func (m Model) drawnOn() Model {
	m.bottles, m.stock = m.b.OpenBottlesFor(m.recipe), planning.StockUsed(&m.recipe, m.b.Stock())
	return m
}

// Renew reads the bottles anew: their screen may have been over this one.
func (m Model) Renew() (screen.Screen, tea.Cmd) { return m.drawnOn().again(), nil }

// Unsaved reports whether leaving would lose what was typed or taken over.
func (m Model) Unsaved() bool { return m.conditions != m.opened || len(m.taken) > 0 }

// again makes the plan anew; what makes none is said beside its field, and the last plan is
// kept unseen for what it says of the fields.
func (m Model) again() Model {
	if m.fault = m.unreadable(); m.fault.text != "" {
		return m
	}
	c, err := m.conditions.Conditions()
	if err != nil {
		m.fault = fault{m.changed, inWords(err)}
		return m
	}
	c.Stock = m.stock
	if c.OpenBottles, err = bottles.Choose(m.conditions, m.bottles); err != nil {
		m.fault = fault{fieldOf("baths"), inWords(err)}
		return m
	}
	if m, c, err = m.divided(c); err != nil {
		m.fault = fault{fieldOf("total sheets"), inWords(err)}
		return m
	}
	plan, err := planning.Resolve(m.recipe, c)
	if err != nil {
		m.fault = fault{m.changed, inWords(err)}
		return m
	}
	m.plan = &plan
	m.at = min(m.at, len(fields)+len(m.ways())-1)
	return m
}

// inWords is the first thing that is wrong, without the command line's name of the field.
func inWords(err error) string {
	var f sequence.FieldError
	if errors.As(err, &f) {
		err = f.Err
	}
	if list, ok := err.(interface{ Unwrap() []error }); ok && len(list.Unwrap()) > 0 {
		return inWords(list.Unwrap()[0])
	}
	return err.Error()
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case observedMsg:
		if msg.vessel == m.plan.Vessel {
			m.observed = msg
		}
	case screen.MeasuredMsg:
		m.changed, m.conditions.Temp = fieldOf("developer temp."), msg.Temperature
		m.typing = nil
		return m.again(), nil, nil
	case tea.KeyMsg:
		return m.pressed(msg)
	}
	return m, nil, nil
}

// pressed carries out a key, and says at once where the time was not found for the vessel
// just chosen.
func (m Model) pressed(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	was := m.plan.Vessel
	m, action := m.key(k)
	now := m.plan.Vessel
	if now == was {
		return m, action, nil
	}
	m.observed = observedMsg{vessel: now}
	b, film := m.b, m.recipe.Film.Name
	ask := func() tea.Msg { return observedMsg{now, b.ObservedLimit(film, now)} }
	if other := m.otherVessel(); action == nil && other != "" {
		action = screen.Message{Text: other}
	}
	return m, action, ask
}
