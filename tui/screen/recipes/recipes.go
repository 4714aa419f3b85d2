// Package recipes is the first screen: the sessions that are unfinished, the recipes, and
// of the chosen one what it asks for. All other screens are reached from here.
package recipes

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	Unfinished() []screen.Unfinished // sessions cut off or running elsewhere, newest first
	FirstRun() bool                  // nobody has run a session on this computer yet
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env

	list     list
	chosen   chosen
	scrolled int // rows of what stands about the chosen one that are passed over

	newcomer  bool
	asking    question
	rehearsal string // the recipe that is being rehearsed; "" for none
	rehearsed bool   // it has been, and nothing was done since: what comes next is said
}

// New makes it. A newcomer's cursor stands on what is rehearsed within a minute.
func New(b Backend, env screen.Env) Model {
	m := Model{b: b, env: env, newcomer: b.FirstRun(), list: read(b)}
	at := m.list.start()
	if first := m.firstRehearsal(); m.newcomer && first >= 0 {
		at = first
	}
	return m.choose(at)
}

// on moves the cursor to the recipe of that name, where there is one.
func (m Model) on(name string) Model {
	if i := m.list.indexOf(name); i >= 0 {
		return m.choose(i)
	}
	return m.choose(m.list.at)
}

// Renew reads anew what there is; the cursor stays where it was. Coming back from a
// rehearsal says what comes next.
func (m Model) Renew() (screen.Screen, tea.Cmd) {
	e, isRecipe := m.list.entry()
	u, _ := m.list.session()
	m.list = m.list.again(m.b)
	m.newcomer = m.b.FirstRun()
	if m.rehearsal != "" {
		e.Name, isRecipe = m.rehearsal, true
		m.rehearsal, m.rehearsed = "", true
	}
	if isRecipe {
		return m.on(e.Name), nil
	}
	at := slices.IndexFunc(m.list.unfinished, func(v screen.Unfinished) bool { return v.ID == u.ID })
	if at < 0 {
		at = m.list.start()
	}
	return m.choose(at), nil
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		next, action := m.key(msg.String())
		return next, action, nil
	case screen.EditedMsg:
		next, action := m.edited(msg)
		return next, action, nil
	case screen.BeginFailedMsg:
		m.rehearsal = ""
	case interface{ Planned() string }: // its plan was left
		m = m.on(msg.Planned())
	}
	return m, nil, nil
}

// edited shows what the person left in the editor: its plan, or what is wrong with it.
func (m Model) edited(msg screen.EditedMsg) (Model, screen.Action) {
	m.list = m.list.again(m.b)
	m = m.on(msg.Recipe)
	if msg.Err != nil {
		return m, screen.Message{Text: msg.Err.Error(), Fault: true}
	}
	if m.chosen.fault != nil {
		return m, screen.Message{Text: msg.Recipe + " cannot be used yet. e opens it again, at the first fault.", Fault: true}
	}
	return m, screen.OpenPlan{Name: msg.Recipe, Conditions: m.env.Defaults,
		Text: fmt.Sprintf("%s has no fault. This is its plan.", msg.Recipe)}
}
