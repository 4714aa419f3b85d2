package curves

// The keys: of the fields, of the picture and its figures, of writing a recipe.

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

func (m Model) key(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	if !m.form.Typing() {
		switch k.String() {
		case "tab":
			m.table, m.alone, m.first = !m.table, !m.alone, 0
			return m, nil, nil
		case "pgup", "pgdown":
			m.first, _ = widget.Move(m.first, m.figuresRows(), k.String(), pageRows+1)
			return m, nil, nil
		case "w":
			return m.write()
		case "p":
			return m.plan()
		}
	}
	var event form.Event
	m.form.Form, event = m.form.Update(k)
	if event != form.Left && event != form.Quit && event != form.Unknown {
		m.table, m.alone = true, false // what is changed is seen
	}
	switch event {
	case form.Left:
		return m, screen.Back{}, nil
	case form.Quit:
		return m, screen.Quit{}, nil
	case form.Changed:
		return m.changed()
	}
	return m, nil, nil
}

// changed takes a field that is another. What was worked out before stands no more, but for
// the recipe that a new one starts from.
func (m Model) changed() (screen.Screen, screen.Action, tea.Cmd) {
	m.form.all = slices.Clone(m.form.all)
	at := &m.form.Fields[m.form.At]
	if at.Label == fieldStart {
		return m, nil, nil
	}
	at.Fault = ""
	m.form.ask()
	m.found, m.turn = nil, m.turn+1
	if _, ok := m.form.aim(); !ok {
		return m, nil, nil
	}
	if published := m.form.field(fieldPublished); published.Value() != "" {
		if _, err := curve.ParseTimes(published.Value()); err != nil {
			published.Fault = err.Error()
		}
	}
	return m, nil, m.evaluate()
}
