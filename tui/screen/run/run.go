package run

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
)

// Model is the screen.
type Model struct{ env screen.Env }

// New makes it.
func New(env screen.Env, s screen.Session, dark bool) Model { return Model{env: env} }

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
func (m Model) About() screen.About { return screen.About{Title: "Run"} }
