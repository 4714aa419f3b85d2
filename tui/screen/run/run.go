// Package run is a session while it goes on: in the light and in red what the hands do,
// the time and what it counts to, the film and its wet time; in the dark nothing is drawn, one
// touch speaks and two act. Start with Model. A screen that is dark stays so until two
// touches after light was offered, or after the session is over.
package run

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
)

// Model is the screen.
type Model struct {
	env     screen.Env
	session screen.Session

	moment
	lamp
	menu menu
	form form

	generation int // of the tick that is awaited
}

// tickMsg has the session looked at anew.
type tickMsg struct{ generation int }

// How soon the session is looked at again.
const (
	redrawDark = time.Second
	// After a command the state is looked at again so soon; light that was put on must be in
	// it by then, or the screen is dark again.
	shownWithin = 50 * time.Millisecond
	heardWithin = 250 * time.Millisecond
)

// New makes it; dark says that the screen is dark already. One whose dark step goes on is
// dark from its first frame.
func New(env screen.Env, s screen.Session, dark bool) Model {
	m := Model{env: env, session: s, moment: moment{units: env.Units()}, lamp: lamp{dark: dark, white: s.Lit() && !dark}}.refreshed()
	if m.mustDarken(m.moment) {
		m.lamp = m.darkened()
	}
	return m
}

// Start asks for the first tick.
func (m Model) Start() tea.Cmd {
	if m.dark {
		return m.laterInTheDark()
	}
	return m.tickAfter(m.redraw())
}

// refreshed asks the session how it stands.
func (m Model) refreshed() Model {
	m.moment = m.of(m.session, m.dark)
	return m
}

// Light is what the screen may be seen in.
func (m Model) Light() light.Light { return m.shines(m.moment) }

// Update takes a key while the screen is lit, or a tick.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case tickMsg:
		if msg.generation != m.generation {
			return m, nil, nil
		}
		return m.tick()
	case tea.KeyMsg:
		if m.dark {
			return m, nil, nil
		}
		return m.key(msg)
	}
	return m, nil, nil
}

// tick looks at the session anew and asks for the next tick.
func (m Model) tick() (screen.Screen, screen.Action, tea.Cmd) {
	m = m.refreshed()
	m.generation++
	switch {
	case m.mustDarken(m.moment):
		m.lamp = m.darkened()
		return m, screen.TouchSpent{}, m.laterInTheDark() // a touch of the lit screen is no first of two
	case m.dark:
		return m, nil, m.laterInTheDark()
	case m.look.Over != "":
		return m, screen.OpenSummary{Session: m.session}, nil
	}
	m.lamp = m.follows(m.moment)
	return m, nil, m.tickAfter(m.redraw())
}

// tickAfter asks for a tick of the present generation.
func (m Model) tickAfter(d time.Duration) tea.Cmd {
	g := m.generation
	return tea.Tick(d, func(time.Time) tea.Msg { return tickMsg{g} })
}

// laterInTheDark asks for one at the next whole second of the computer's clock, when the
// rest of the program is awake too.
func (m Model) laterInTheDark() tea.Cmd {
	g := m.generation
	return tea.Every(redrawDark, func(time.Time) tea.Msg { return tickMsg{g} })
}

// Unsaved reports whether leaving now leaves a session behind.
func (m Model) Unsaved() bool { return m.look.Over == "" }
