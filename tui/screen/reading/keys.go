package reading

// The keys of an entry: where it goes, what is left out, taken back or turned round.

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
)

// key carries one out. While something is typed, ←→ move in it.
func (m Model) key(k tea.KeyMsg) (Model, screen.Action, tea.Cmd) {
	const page = 5
	name, typing := k.String(), m.typed.Value() != ""
	switch name {
	case "enter":
		return m.take()
	case "up":
		return m.to(m.col, m.row-1), nil, nil
	case "down":
		return m.to(m.col, m.row+1), nil, nil
	case "tab":
		return m.to((m.col+1)%len(m.r.Sheets), m.row), nil, nil
	case "pgup":
		return m.to(m.col, m.row-page), nil, nil
	case "pgdown":
		return m.to(m.col, m.row+page), nil, nil
	case "u":
		return m.undo()
	case "x":
		return m.leaveOut()
	case "r":
		return m.turnRound()
	case "c":
		return m.curves()
	case "q":
		return m, screen.Quit{}, nil
	case "esc":
		if typing {
			return m.to(m.col, m.row), nil, nil
		}
		return m, screen.Back{}, nil
	}
	if !typing {
		switch name {
		case "left":
			return m.to(m.col-1, m.row), nil, nil
		case "right":
			return m.to(m.col+1, m.row), nil, nil
		}
	}
	if k.Type != tea.KeyRunes && k.Type != tea.KeySpace || strings.Contains("0123456789.,/ -+", name) {
		was := m.typed.Value()
		if m.typed = m.typed.Typed(k); m.typed.Value() != was {
			m.confirmed = false
		}
	}
	return m, nil, nil
}
