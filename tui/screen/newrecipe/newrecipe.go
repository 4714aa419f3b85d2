// Package newrecipe is a form that makes a recipe field by field, in the order in which a
// box of film is opened, or changes one of the person's own. What it writes is the file of
// the recipe it started from with what was changed; the plan that follows stands beside.
package newrecipe

import (
	"fmt"
	"slices"

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

	entries    []recipes.Entry // those that it can start from
	from       recipes.Entry   // the one it starts from
	inPlace    bool            // which is changed itself
	mayReplace bool            // it may be: it is the person's own and was asked for by its name
	source     []byte          // its file
	base       sequence.Recipe

	set    map[string]string // what was changed, by the field's id, as typed
	result result
	at     int // the field chosen; behind the last one, saving
	typing *widget.Prompt
	asking bool // whether to leave what was changed
	saving bool

	scrolled int // rows of the plan that are passed over
}

// savedMsg tells that the recipe was written.
type savedMsg struct {
	name string
	edit bool // the editor was asked for too
	err  error
}

// usualStart is what a new recipe starts from where nothing is said, as wetside new does.
const usualStart = "tern-hangers"

// New makes it: from a recipe that is to be changed or started from, or from none.
func New(b Backend, env screen.Env, from string) (Model, error) {
	m := Model{b: b, env: env, set: map[string]string{}}
	for _, e := range b.Recipes() {
		if e.Fault == nil {
			m.entries = append(m.entries, e)
		}
	}
	at := m.index(from)
	if from == "" {
		at = max(0, m.index(usualStart))
	}
	if at < 0 || len(m.entries) == 0 {
		return m, fmt.Errorf("recipe %q cannot be changed here: it is not there or has faults", from)
	}
	m, err := m.startFrom(m.entries[at])
	m.mayReplace = m.from.IsOwn && from != ""
	m.inPlace = m.mayReplace
	return m.applied(), err
}

func (m Model) index(name string) int {
	return slices.IndexFunc(m.entries, func(e recipes.Entry) bool { return e.Name == name })
}

// startFrom reads what the form starts from. What was changed stays changed.
func (m Model) startFrom(e recipes.Entry) (Model, error) {
	source, err := m.b.RecipeText(e.Name)
	if err != nil {
		return m, err
	}
	base, err := recipes.Read(e.Name, source)
	if err != nil {
		return m, err
	}
	m.from, m.source, m.base = e, source, base
	return m.applied(), nil
}

// Unsaved reports whether leaving now would lose something.
func (m Model) Unsaved() bool { return len(m.set) > 0 || m.typing != nil }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return m.key(msg)
	case savedMsg:
		next, action := m.saved(msg)
		return next, action, nil
	case screen.EditedMsg:
		next, action := m.edited(msg)
		return next, action, nil
	}
	return m, nil, nil
}

// save writes the recipe, and opens the editor on it where that was asked for.
func (m Model) save(edit bool) (Model, screen.Action, tea.Cmd) {
	if at := m.firstFault(); at >= 0 {
		m.at = at
		return m, screen.Message{Text: "It cannot be saved yet: what is wrong stands beside the field.", Fault: true}, nil
	}
	if m.result.plan == nil {
		m.at = len(m.fields())
		return m, screen.Message{Text: "It cannot be saved yet: no plan comes of it.", Fault: true}, nil
	}
	text, err := recipes.Rewrite(m.from.Name, m.source, m.result.recipe)
	if err != nil && m.inPlace {
		return m, screen.Message{Text: err.Error() + ". The editor changes it: e in the list.", Fault: true}, nil
	} else if err != nil {
		text = recipes.Write(m.result.recipe, m.result.recipe.Title)
	}
	name, was := m.result.recipe.Title, []byte(nil)
	if m.inPlace {
		name, was = m.from.Name, m.source
	}
	b := m.b
	m.saving = true
	return m, nil, func() tea.Msg {
		name, err := b.SaveRecipe(name, was, text)
		return savedMsg{name, edit, err}
	}
}

// saved goes on to the plan of what was written, or to the editor.
func (m Model) saved(msg savedMsg) (Model, screen.Action) {
	m.saving = false
	if msg.err != nil {
		return m, screen.Message{Text: msg.err.Error(), Fault: true}
	}
	m.set = map[string]string{}
	if msg.edit {
		return m, screen.Edit{Recipe: msg.name}
	}
	return m, m.plan(msg.name, msg.name+" is saved. This is its plan.")
}

func (m Model) plan(name, text string) screen.Action {
	return screen.OpenPlan{Name: name, Conditions: m.env.Defaults, Text: text}
}

// edited goes on to the plan of what the person left in the editor. Of what has faults or
// was not opened the form is done: the list says what is wrong.
func (m Model) edited(msg screen.EditedMsg) (Model, screen.Action) {
	if msg.Err != nil {
		return m, screen.Several{screen.Back{}, screen.Message{Text: msg.Err.Error(), Fault: true}}
	}
	if _, err := m.b.Recipe(msg.Recipe); err != nil {
		return m, screen.Several{screen.Back{}, screen.Message{Text: msg.Recipe + " cannot be used yet. e in the list opens it at the first fault.", Fault: true}}
	}
	return m, m.plan(msg.Recipe, msg.Recipe+" has no fault. This is its plan.")
}
