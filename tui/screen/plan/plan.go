package plan

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
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
type Model struct{ env screen.Env }

// New makes it.
func New(b Backend, env screen.Env, open screen.OpenPlan) (Model, error) { return Model{env: env}, nil }

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
func (m Model) About() screen.About { return screen.About{Title: "Plan"} }
