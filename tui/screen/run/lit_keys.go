package run

// The keys of the lit screen, and what each asks of the session.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// key is what a key does in the light; with a form open it belongs to that.
func (m Model) key(msg tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.form.open() && msg.String() == "enter":
		return m.answered()
	case m.form.open():
		m.form = m.form.typed(msg)
		return m, nil, nil
	}
	name := msg.String()
	if k, is := m.env.Keys.Of(name); is {
		if k == screen.MenuKey {
			m.session.SpeakState() // in the light nothing is chosen by ear
		}
		return m, nil, nil
	}
	switch name {
	case "u":
		return m.sent(sequence.Undo{}, "Undone.")
	case "h":
		if m.session.Snapshot().Held {
			return m.sent(sequence.EndHold{}, "Going on.")
		}
		return m.sent(sequence.Hold{}, "Held: the film stays, the chemistry goes on. Press h to go on.")
	case "a":
		m.session.Say(screen.SaysAdvice)
		a, ok := m.session.Advise()
		return m, screen.Message{Text: say.Sentence(say.Advice(a, ok, m.session.Plan()))}, nil
	case "w":
		return m.whiteLight()
	case "l", "x", "t", "n", "s":
		return m.opened(name)
	}
	return m, nil, nil
}

// whiteLight changes between red and full colour, which only a room with white light allows.
func (m Model) whiteLight() (screen.Screen, screen.Action, tea.Cmd) {
	m = m.refreshed()
	lamp, may := m.changed(m.moment)
	if !may {
		return m, screen.Message{Text: "There is no white light in this step: the screen stays red.", Fault: true}, nil
	}
	m.lamp = lamp
	return m, nil, nil
}

// sent asks something of the session and says what came of it.
func (m Model) sent(c sequence.Command, done string) (screen.Screen, screen.Action, tea.Cmd) {
	if why := m.session.Refuse(c); why.Refused() {
		return m, screen.Message{Text: say.Sentence(say.Refusal(why, m.env.Units()))}, nil // of this moment: it goes by itself
	}
	m.session.Do(c)
	m.generation++
	return m, screen.Message{Text: done}, m.tickAfter(shownWithin)
}
