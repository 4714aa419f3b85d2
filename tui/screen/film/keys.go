package film

// The keys of the page and of the list of films.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

func (m Model) key(name string) (screen.Screen, screen.Action, tea.Cmd) {
	switch name {
	case "pgup", "pgdown":
		s, _ := m.scroll(m.pageRoom()).Key(name)
		m.first = s.First
		return m, nil, nil
	case "left", "right":
		by := map[string]sequence.Celsius{"left": -1, "right": 1}[name]
		m.warmer = min(max(coolest, m.warmer+by), warmest)
		return m.assessed()
	case "tab":
		m.table = !m.table
	case "q":
		return m, screen.Quit{}, nil
	case "esc":
		return m, screen.Back{}, nil
	}
	if at, ok := widget.Move(m.at, len(m.known), name, m.h); ok {
		return m.chosen(at)
	}
	return m, nil, nil
}
