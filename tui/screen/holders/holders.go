package holders

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Sheets() ([]holders.ExposedSheet, []holders.Outcome, error)
	AddSheet(holders.ExposedSheet) error
	ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error // to nil takes it off
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	// KeepRecipe writes a recipe among the person's own, never over another, and
	// tells its name.
	KeepRecipe(sequence.Recipe) (name string, err error)
}

// Model is the screen.
type Model struct{ env screen.Env }

// New makes it.
func New(b Backend, env screen.Env) Model { return Model{env: env} }

// NewGroups makes it.
func NewGroups(b Backend, env screen.Env, sheets []holders.ExposedSheet) Model {
	return Model{env: env}
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.String() == "esc" {
		return m, screen.Back{}, nil
	}
	return m, nil, nil
}

// View draws the body.
func (m Model) View(w, h int) string { return "" }

// About is what stands around it.
func (m Model) About() screen.About { return screen.About{Title: "Holders"} }
