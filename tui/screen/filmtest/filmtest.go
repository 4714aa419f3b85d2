package filmtest

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	// FilmTest is a recipe made into a film test round a developing time, "" for the
	// recipe's own; and what to know before it, in paragraphs.
	FilmTest(r sequence.Recipe, sheets int, guess string) (test sequence.Recipe, told []string, err error)
	// Forecast says how well the test will tell the time; it may take a second.
	Forecast(r sequence.Recipe, sheets int, guess string) string
	KeepRecipe(sequence.Recipe) (name string, err error)
}

// Model is the screen.
type Model struct{ env screen.Env }

// New makes it.
func New(b Backend, env screen.Env, r sequence.Recipe) Model { return Model{env: env} }

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
func (m Model) About() screen.About { return screen.About{Title: "Film test"} }
