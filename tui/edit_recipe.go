package tui

// A recipe in the person's editor, from the list: opened there, and looked at when
// the editor is left. While it is open nothing is drawn and no session can begin.

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// editedMsg tells that the editor was left.
type editedMsg struct {
	name string
	err  error // of the editor, not of what was written
}

// editChosen opens the editor on the recipe under the cursor; of a shipped one on a
// copy.
func (m Model) editChosen() (tea.Model, tea.Cmd) {
	e, ok := m.list.recipe()
	switch {
	case m.starting:
		return m, nil
	case !ok:
		return m.showError("a session is not edited; choose a recipe"), nil
	}
	name, editor, err := m.o.Backend.Edit(e.Name)
	if err != nil {
		return m.showError(err.Error()), nil
	}
	m.starting = true
	return m, tea.Exec(editor, func(err error) tea.Msg { return editedMsg{name, err} })
}

// edited shows what the person left: its plan, or what is wrong with it. Keys pressed
// before the editor came may have led elsewhere: then that stays.
func (m Model) edited(msg editedMsg) (tea.Model, tea.Cmd) {
	m.starting = false
	if m.screen != recipeListScreen || m.dark {
		return m, tea.ClearScreen
	}
	m.list = newRecipeList(m.o).on(m.o.Backend, msg.name)
	if msg.err != nil {
		return m.showError(msg.err.Error()), tea.ClearScreen
	}
	if e, ok := m.list.recipe(); ok && e.Fault != nil {
		return m.showError(msg.name + " cannot be used yet: e opens it again, at the first fault"), tea.ClearScreen
	}
	p, err := newPlan(m.o.Backend, msg.name, m.o.Defaults)
	if err != nil {
		return m.showError(err.Error()), tea.ClearScreen
	}
	m.plan, m.screen = p, planScreen
	return m.showMessage(fmt.Sprintf("%s, your own, is right: this is its plan", msg.name)), tea.ClearScreen
}
