package holders

// The keys of the list, and of the form of one sheet.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence/holders"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
)

func (m Model) key(name string) (screen.Screen, screen.Action, tea.Cmd) {
	again := m.asked
	m.asked = false
	if at, ok := m.pager.Move(m.at, len(m.list), name); ok {
		m.at = at
		return m, nil, nil
	}
	switch name {
	case "a":
		f := m.sheetForm(nil)
		m.sheet, m.from = &f, nil
	case "enter":
		if e := m.chosen(); e != nil {
			f := m.sheetForm(e)
			m.sheet, m.from = &f, e
		} else if m.at < len(m.list) {
			return m, screen.OpenSession{ID: m.list[m.at].outcome.Session}, nil
		}
	case "x":
		return m.drop(again)
	case "g":
		if m.waits == 0 {
			return m, screen.Message{Text: "No sheet waits.", Fault: true}, nil
		}
		var sheets []holders.ExposedSheet
		for _, e := range m.list[:m.waits] {
			sheets = append(sheets, e.ExposedSheet)
		}
		return m, screen.OpenGroups{Sheets: sheets}, nil
	case "esc":
		return m, screen.Back{}, nil
	case "q":
		return m, screen.Quit{}, nil
	}
	return m, nil, nil
}

// formKey is a key of the form; its last row takes the sheet.
func (m Model) formKey(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	f, event := m.sheet.Update(k)
	m.sheet = &f
	switch event {
	case form.Left:
		m.sheet, m.from = nil, nil
	case form.Done:
		e, at, err := m.typedSheet()
		if err != nil {
			f = f.Faulted(at, err)
			return m, nil, nil
		}
		b, from := m.b, m.from
		if from == nil {
			return m, nil, m.load(func() error { return b.AddSheet(e) })
		}
		return m, nil, m.load(func() error { return b.ReplaceSheet(*from, &e) })
	}
	return m, nil, nil
}
