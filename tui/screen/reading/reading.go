package reading

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Sessions() []notebook.Summary // newest first
	Read(id string) (notebook.Session, error)
	Densities() []densities.ReadingsFile // newest first
	Tablets() []densities.Tablet         // calibrated ones
	NameDensities(film string) string    // for new readings
	// KeepDensities has them on disk when it returns.
	KeepDensities(name string, r *curve.Readings) error
}

// Model is the screen.
type Model struct{ env screen.Env }

// NewList makes it.
func NewList(b Backend, env screen.Env) Model { return Model{env: env} }

// NewSetup makes it.
func NewSetup(b Backend, env screen.Env, of *notebook.Session) Model { return Model{env: env} }

// New makes it.
func New(b Backend, env screen.Env, f densities.ReadingsFile) Model { return Model{env: env} }

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
func (m Model) About() screen.About { return screen.About{Title: "Densities"} }
