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

	unfinished []screen.Unfinished
	recipes    []recipes.Entry // the person's own, then the shipped ones
	at         int             // the line chosen: first the unfinished sessions, then the recipes
	chosen     chosen
	scrolled   int // rows of what stands about the chosen one that are passed over

	newcomer  bool
	asking    question
	rehearsal string // the recipe that is being rehearsed; "" for none
	rehearsed bool   // it has been, and nothing was done since: what comes next is said
}

// New makes it. A newcomer's cursor stands on what is rehearsed within a minute.
func New(b Backend, env screen.Env) Model {
	m := Model{b: b, env: env, newcomer: b.FirstRun()}.read()
	m.at = m.start()
	if at := m.firstRehearsal(); m.newcomer && at >= 0 {
		m.at = at
	}
	return m.choose(m.at)
}

// read reads what there is.
func (m Model) read() Model {
	m.unfinished, m.recipes = offered(m.b.Unfinished()), slices.Clone(m.b.Recipes())
	slices.SortStableFunc(m.recipes, func(a, b recipes.Entry) int {
		switch {
		case a.IsOwn == b.IsOwn:
			return 0
		case a.IsOwn:
			return -1
		}
		return 1
	})
	return m
}

// offered leaves out rehearsals but the newest: many may lie about.
func offered(list []screen.Unfinished) (kept []screen.Unfinished) {
	rehearsed := false
	for _, u := range list {
		if !u.Rehearsal || !rehearsed {
			kept = append(kept, u)
		}
		rehearsed = rehearsed || u.Rehearsal
	}
	return kept
}

// start is the line to begin on: a session that was cut off, else a recipe that can be used.
func (m Model) start() int {
	if len(m.unfinished) > 0 {
		return 0
	}
	return max(0, slices.IndexFunc(m.recipes, func(e recipes.Entry) bool { return e.Fault == nil }))
}

// rows is how many lines can be chosen.
func (m Model) rows() int { return len(m.unfinished) + len(m.recipes) }

// session is the session chosen; false where a recipe is.
func (m Model) session() (screen.Unfinished, bool) {
	if m.at >= len(m.unfinished) {
		return screen.Unfinished{}, false
	}
	return m.unfinished[m.at], true
}

// entry is the recipe chosen; false where a session is.
func (m Model) entry() (recipes.Entry, bool) {
	i := m.at - len(m.unfinished)
	if i < 0 || i >= len(m.recipes) {
		return recipes.Entry{}, false
	}
	return m.recipes[i], true
}

// on moves the cursor to the recipe of that name, where there is one.
func (m Model) on(name string) Model {
	if i := slices.IndexFunc(m.recipes, func(e recipes.Entry) bool { return e.Name == name }); i >= 0 {
		return m.choose(len(m.unfinished) + i)
	}
	return m.choose(m.at)
}

// Renew reads anew what there is; the cursor stays where it was. Coming back from a
// rehearsal says what comes next.
func (m Model) Renew() (screen.Screen, tea.Cmd) {
	e, isRecipe := m.entry()
	u, _ := m.session()
	m = m.read()
	m.newcomer = m.b.FirstRun()
	if m.rehearsal != "" {
		e.Name, isRecipe = m.rehearsal, true
		m.rehearsal, m.rehearsed = "", true
	}
	if isRecipe {
		return m.on(e.Name), nil
	}
	at := slices.IndexFunc(m.unfinished, func(v screen.Unfinished) bool { return v.ID == u.ID })
	if at < 0 {
		at = m.start()
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
	m = m.read().on(msg.Recipe)
	if msg.Err != nil {
		return m, screen.Message{Text: msg.Err.Error(), Fault: true}
	}
	if m.chosen.fault != nil {
		return m, screen.Message{Text: msg.Recipe + " cannot be used yet. e opens it again, at the first fault.", Fault: true}
	}
	return m, screen.OpenPlan{Name: msg.Recipe, Conditions: m.env.Defaults,
		Text: fmt.Sprintf("%s has no fault. This is its plan.", msg.Recipe)}
}
