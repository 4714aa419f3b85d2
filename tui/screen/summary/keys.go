package summary

// The keys, each of which may lead to white light.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
)

// key reads on, or leads elsewhere, to white light.
func (m Model) key(name string) (_ Model, action screen.Action) {
	if s, moved := m.scroll(m.w, m.h).Key(name); moved {
		m.first = s.First
		return m, nil
	}
	switch name {
	case "n", "v", "e", "d":
		action = screen.OpenSession{ID: m.session.ID(), Then: tasks[name]}
	case "a":
		action = m.again()
	case "enter", "esc":
		action = screen.Home{}
	case "q", "ctrl+c":
		action = screen.Quit{Sure: true}
	default:
		return m, nil
	}
	m.film, action = m.film.Left(action, name)
	return m, action
}

// Interrupt leaves the program.
func (m Model) Interrupt() (screen.Screen, screen.Action, tea.Cmd) {
	return m.Update(tea.KeyMsg{Type: tea.KeyCtrlC})
}
