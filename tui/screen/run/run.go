// Package run is a session while it goes on: in the light and in red what the hands do,
// the time and what it counts to, the film and its wet time; in the dark nothing is drawn, one
// touch speaks and two act. Start with Model. A screen that is dark stays so until two
// touches after light was offered, or after the session is over.
package run

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/strips"
)

// Model is the screen.
type Model struct {
	env     screen.Env
	session screen.Session

	look    engine.Snapshot
	events  []sequence.Event // as far as they are shown; nil in the dark
	dark    bool             // no cell is lit
	white   bool             // full colour, where the room has white light
	whitely int              // the step, counted from 2, in which white came by itself; 0 for none

	menu    menu
	form    form
	shifted shifted

	generation int // of the tick that is awaited
}

// shifted is a transfer that a reading put elsewhere. The zero value is none.
type shifted struct {
	next engine.Transfer // the transfer, At as it was before
	any  bool
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
	m := Model{env: env, session: s, dark: dark, white: s.Lit() && !dark}.refreshed()
	if m.mustDarken() {
		m = m.darkened()
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
	m.look = m.session.Snapshot()
	if c := m.look.LastCue; c != nil && c.Kind == sequence.CueReading {
		m.shifted = shifted{m.look.Next, true}
		m.shifted.next.At = c.At + c.For - c.Change
	}
	m.events = nil
	if !m.dark {
		m.events = m.session.Events()
	}
	return m
}

// darkened is the screen without a lit cell; light that comes back is red.
func (m Model) darkened() Model {
	m.dark, m.white = true, false
	return m
}

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
	case m.mustDarken():
		m = m.darkened()
		return m, screen.TouchSpent{}, m.laterInTheDark() // a touch of the lit screen is no first of two
	case m.dark:
		return m, nil, m.laterInTheDark()
	case m.look.Over != "":
		return m, screen.OpenSummary{Session: m.session}, nil
	case m.white && !m.mayBeWhite():
		m.white = false
	case !m.white && m.look.Light == sequence.White && m.whitely != m.look.Step+2:
		m.white, m.whitely = true, m.look.Step+2 // once a step: what the person then chooses stays
	}
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

// redraw is the time to the next second that is shown.
func (m Model) redraw() time.Duration {
	speed := max(1, m.session.RehearsalSpeed())
	left := strips.ShownSecond(m.look.Now) + time.Second - m.look.Now
	d := time.Duration(float64(left)/speed) + 5*time.Millisecond
	return min(max(d, 100*time.Millisecond), time.Second)
}

// Light is what the screen may be seen in.
func (m Model) Light() light.Light {
	switch {
	case m.dark:
		return light.Dark
	case m.white:
		return light.White
	case m.bySafelight():
		return light.Safelight
	}
	return light.Red
}

// mustDarken reports whether the room is dark again while the screen is lit.
func (m Model) mustDarken() bool {
	l := m.look
	return !m.dark && l.Began && l.Over == "" && !m.session.Lit() && l.Light == sequence.Dark && !l.LightOn
}

// bySafelight reports whether the step is one in which film lies open by safelight.
func (m Model) bySafelight() bool {
	return m.look.Light == sequence.Safelight && m.look.Over == "" && !m.session.Lit()
}

// mayBeWhite reports whether the room may have white light: in a white step, in a
// rehearsal, and where the last sheet is fixed and the person put the light on. Light put on for
// a safelight step is no leave for white.
func (m Model) mayBeWhite() bool {
	l := m.look
	return l.Light == sequence.White || l.LightOn && l.Light == sequence.Dark || m.session.Lit()
}

// Unsaved reports whether leaving now leaves a session behind.
func (m Model) Unsaved() bool { return m.look.Over == "" }
