package session

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Read(id string) (notebook.Session, error)
	Note(id string, n notebook.Note) error
	Archive(id string) error // out of the notebook, with a way back
}

// Model is the screen.
type Model struct{ env screen.Env }

// New makes it.
func New(b Backend, env screen.Env, open screen.OpenSession) (Model, error) {
	return Model{env: env}, nil
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
func (m Model) About() screen.About { return screen.About{Title: "Session"} }
