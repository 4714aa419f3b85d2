package filmtest

// The keys of the fields, of writing the recipe and of going on to it.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

func (m Model) key(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	const page = 6
	switch k.String() {
	case "pgup", "pgdown":
		m.first, _ = widget.Move(m.first, len(m.about(60))-page+1, k.String(), page+1)
		return m, nil, nil
	}
	var event form.Event
	before := m.chosen()
	m.form, event = m.form.Update(k)
	switch {
	case event == form.Left:
		return m, screen.Back{}, nil
	case event == form.Quit:
		return m, screen.Quit{}, nil
	case event == form.Done:
		return m.write()
	case m.chosen() != before:
		m.made, m.sure, m.first = nil, "", 0
		return m, nil, m.work()
	}
	return m, nil, nil
}
