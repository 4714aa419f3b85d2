package screens

// The screens on the terminal. bubbletea keeps the messages; its renderer, which
// looks thirty times a second whether there is something to draw, is left out: a
// view is drawn when it is new, the first at once.

import (
	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/tui/light"
)

// drawnModel is the screens and the terminal that they are drawn on. It draws in
// Init and Update, after which nothing of the model changes until the next.
type drawnModel struct {
	tea.Model
	guard *light.Guard
}

// WrapModel puts a model of the tests', with faults, in the place of the screens.
var WrapModel = func(m tea.Model) tea.Model { return m }

// drawOn is a model that knows the size of its terminal from the first.
func drawOn(g *light.Guard, m tea.Model) drawnModel {
	m = WrapModel(m)
	if w, h, err := term.GetSize(int(g.Fd())); err == nil {
		m, _ = m.Update(tea.WindowSizeMsg{Width: w, Height: h})
	}
	return drawnModel{m, g}
}

// Init draws the first view.
func (d drawnModel) Init() tea.Cmd {
	d.guard.Redraw(d.Model.View())
	return d.Model.Init()
}

// Update gives the message to the screens and draws what came of it.
func (d drawnModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := d.Model.Update(msg)
	d.Model = next
	if msg == tea.ClearScreen() {
		d.guard.Redraw(next.View())
	} else {
		d.guard.Show(next.View())
	}
	return d, cmd
}

// View is for bubbletea's renderer, which is not there.
func (d drawnModel) View() string { return "" }
