package main

// The screens on the terminal. bubbletea keeps the messages; its renderer, which
// looks thirty times a second whether there is something to draw, is left out: a
// view is drawn when it is new, the first at once.

import (
	"os"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/tui/room"
)

// drawing is the screens and the terminal that they are drawn on. It draws in
// Init and Update, after which nothing of the model changes until the next.
type drawing struct {
	tea.Model
	on *room.Screen
}

// dress puts a model of the tests', with faults, in the place of the screens.
var dress = func(m tea.Model) tea.Model { return m }

// drawnOn is a model that knows the size of its terminal from the first.
func drawnOn(g *room.Guard, m tea.Model) drawing {
	m = dress(m)
	if w, h, err := term.GetSize(int(g.Fd())); err == nil {
		m, _ = m.Update(tea.WindowSizeMsg{Width: w, Height: h})
	}
	return drawing{m, room.NewScreen(g)}
}

// Init draws the first view.
func (d drawing) Init() tea.Cmd {
	d.on.Redraw(d.Model.View())
	return d.Model.Init()
}

// Update gives the message to the screens and draws what came of it.
func (d drawing) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := d.Model.Update(msg)
	d.Model = next
	if msg == tea.ClearScreen() {
		d.on.Redraw(next.View())
	} else {
		d.on.Draw(next.View())
	}
	return d, cmd
}

// View is for bubbletea's renderer, which is not there.
func (d drawing) View() string { return "" }

// keyboard is the terminal's input while the screens are drawn: keys arrive as they
// are typed.
type keyboard struct {
	in  *os.File
	was *term.State // nil where nothing was changed
}

// take has keys arrive as they are typed.
func (k *keyboard) take() {
	if was, err := term.MakeRaw(int(k.in.Fd())); err == nil {
		k.was = was
	}
}

// give makes the terminal as it was.
func (k *keyboard) give() {
	if k.was != nil {
		term.Restore(int(k.in.Fd()), k.was)
	}
}
