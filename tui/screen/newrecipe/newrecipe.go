// Package newrecipe is a form that makes a recipe field by field, in the order in which a
// box of film is opened, or changes one of the person's own. What it writes is the file of
// the recipe it started from with what was changed; the plan that follows stands beside.
package newrecipe

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	RecipeText(name string) ([]byte, error) // a recipe's file as it is
	// SaveRecipe writes a recipe's text among the person's own and tells its name. With was,
	// in place of the recipe of that name, as long as its file still reads like that; with nil,
	// as a new one under a name like that one that is not taken.
	SaveRecipe(name string, was, text []byte) (string, error)
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env

	draft    draft
	at       int // the field chosen; behind the last one, saving
	typing   *widget.Prompt
	asking   bool // whether to leave what was changed
	saving   bool
	scrolled int // rows of the plan that are passed over
}

// savedMsg tells that the recipe was written.
type savedMsg struct {
	name string
	edit bool // the editor was asked for too
	err  error
}

// New makes it: from a recipe that is to be changed or started from, or from none.
func New(b Backend, env screen.Env, from string) (Model, error) {
	d, err := begun(b, env.Defaults, from)
	return Model{b: b, env: env, draft: d}, err
}

// Unsaved reports whether leaving now would lose something.
func (m Model) Unsaved() bool { return len(m.draft.set) > 0 || m.typing != nil }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return m.key(msg)
	case savedMsg:
		return m.saved(msg)
	case screen.EditedMsg:
		return m.edited(msg)
	}
	return m, nil, nil
}

// save writes the recipe, and opens the editor on it where that was asked for.
func (m Model) save(edit bool) (Model, screen.Action, tea.Cmd) {
	if at := m.draft.firstFault(); at >= 0 {
		m.at = at
		return m, screen.Message{Text: "It cannot be saved yet: what is wrong stands beside the field.", Fault: true}, nil
	}
	if m.draft.result.plan == nil {
		m.at = len(m.draft.fields())
		return m, screen.Message{Text: "It cannot be saved yet: no plan comes of it.", Fault: true}, nil
	}
	name, was, text, err := m.draft.file()
	if err != nil {
		return m, screen.Message{Text: err.Error() + ". The editor changes it: e in the list.", Fault: true}, nil
	}
	m.saving = true
	return m, nil, func() tea.Msg {
		name, err := m.b.SaveRecipe(name, was, text)
		return savedMsg{name, edit, err}
	}
}

// saved goes on to the plan of what was written, or to the editor.
func (m Model) saved(msg savedMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.saving = false
	if msg.err != nil {
		return m, screen.Message{Text: msg.err.Error(), Fault: true}, nil
	}
	m.draft.set = map[string]string{}
	if msg.edit {
		return m, screen.Edit{Recipe: msg.name}, nil
	}
	return m, m.plan(msg.name, msg.name+" is saved. This is its plan."), nil
}

func (m Model) plan(name, text string) screen.Action {
	return screen.OpenPlan{Name: name, Conditions: m.env.Defaults, Text: text}
}

// edited goes on to the plan of what the person left in the editor. Of what has faults or
// was not opened the form is done: the list says what is wrong.
func (m Model) edited(msg screen.EditedMsg) (screen.Screen, screen.Action, tea.Cmd) {
	if msg.Err != nil {
		return m, screen.Several{screen.Back{}, screen.Message{Text: msg.Err.Error(), Fault: true}}, nil
	}
	if _, err := m.b.Recipe(msg.Recipe); err != nil {
		return m, screen.Several{screen.Back{}, screen.Message{Text: msg.Recipe + " cannot be used yet. e in the list opens it at the first fault.", Fault: true}}, nil
	}
	return m, m.plan(msg.Recipe, msg.Recipe+" has no fault. This is its plan."), nil
}
