package run

// Touches: in the light the big key moves on; in the dark one touch of it only speaks and two
// act, the second key opens a menu that the big one answers, and escape does nothing.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
)

// Touch takes a touch as it counts.
func (m Model) Touch(t screen.Touch) (screen.Screen, screen.Action, tea.Cmd) {
	if !m.dark {
		if t.Key != screen.BigKey {
			return m, nil, nil
		}
		next, done, cmd := m.sent(sequence.MoveOn{}, "Moved on. u undoes it for 10 s.")
		// A touch in the light does its work by itself: the next is a first one, should it fall in the dark.
		return next, screen.Several{done, screen.TouchSpent{}}, cmd
	}
	switch t.Key {
	case screen.BigKey:
		return m.bigInDark(t.Kind)
	case screen.MenuKey:
		m.menu = m.menu.next(m.session, m.env.Now())
	}
	return m, nil, nil
}

// bigInDark answers one touch and acts on two, also while the menu is open.
func (m Model) bigInDark(kind press.Kind) (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.menu.open(m.env.Now()):
		n, answer := m.menu.touched(kind, m.session, m.env.Now())
		m.menu = n
		if answer.asks != nil {
			m.ask(answer.asks)
		}
		if answer.spent {
			return m, screen.TouchSpent{}, nil
		}
	case kind == press.Two:
		return m.actInDark()
	case kind == press.One:
		m.session.SpeakState()
	}
	return m, nil, nil
}

// actInDark brings back a light that was offered, or moves on.
func (m Model) actInDark() (screen.Screen, screen.Action, tea.Cmd) {
	l := m.session.Snapshot()
	switch {
	case l.LightOffered || l.Over != "":
		m.session.Do(sequence.Report{Kind: sequence.LightChanged, Text: "on"})
		m.dark = false
		m = m.refreshed()
		m.lamp = m.relit(m.moment)
		m.generation++
		return m, nil, m.tickAfter(heardWithin)
	case l.InRow && !l.Held:
		m.ask(sequence.Hold{}) // a sheet is stuck: the row waits, the next two touches move it
	default:
		m.ask(sequence.MoveOn{})
	}
	return m, nil, nil
}

// ask puts a command to the session in the dark; what it refuses is heard. Without a
// voice it is heard too that it was done: a transfer has its own tone.
func (m Model) ask(c sequence.Command) {
	s := m.session
	if s.Refuse(c).Refused() {
		s.Say(screen.SaysNotPossible)
		return
	}
	s.Do(c)
	if _, moves := c.(sequence.MoveOn); !moves && !s.Speaks() {
		s.Say(screen.SaysDone)
	}
}
