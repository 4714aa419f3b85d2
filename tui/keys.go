package tui

// Where a key goes: to the help, to the big key's screen, or to the screen that is shown.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
)

// keys gives each key of a message by itself; several runes may come at once. What was
// pasted goes only where something is being typed.
func (m Model) keys(msg tea.KeyMsg) (Model, tea.Cmd) {
	if msg.Paste {
		if m.dark() || !m.top().About().Typing {
			return m, nil
		}
		return m.give(msg)
	}
	if msg.Type != tea.KeyRunes || len(msg.Runes) == 1 {
		return m.key(msg)
	}
	var cmds []tea.Cmd
	for _, r := range msg.Runes {
		var cmd tea.Cmd
		m, cmd = m.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt})
		m, _ = m.relight()
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

func (m Model) key(msg tea.KeyMsg) (Model, tea.Cmd) {
	name := msg.String()
	if m.dark() {
		return m.inDark(name)
	}
	m.message = message{}
	about := m.top().About()
	switch {
	case m.quitting:
		return m.leaving(name)
	case m.help != nil:
		return m.helpKey(name), nil
	case name == "?" && !about.Typing:
		m.help = &about.Help
		return m, nil
	case name == "ctrl+c":
		return m.interrupt()
	}
	if s, ok := m.top().(screen.Touched); ok && !about.Typing {
		if k, is := m.o.Keys.Of(name); is && k == screen.BigKey {
			return m.touch(s, k)
		}
	}
	return m.give(msg)
}

// interrupt leaves, or asks the screen what it means here.
func (m Model) interrupt() (Model, tea.Cmd) {
	s, ok := m.top().(screen.Interrupted)
	if !ok {
		return m.do(screen.Quit{})
	}
	next, action, cmd := s.Interrupt()
	m, done := m.with(next).do(action)
	return m, tea.Batch(cmd, done)
}

// inDark is all that a key can do while no cell is lit.
func (m Model) inDark(name string) (Model, tea.Cmd) {
	s, ok := m.top().(screen.Touched)
	k, is := m.o.Keys.Of(name)
	if !ok || !is {
		return m, nil
	}
	if k == screen.MenuKey {
		m.big = m.big.Reset() // a touch that waited for its second waits no more
	}
	return m.touch(s, k)
}

// touch counts a key and gives the screen what counts. A change of light makes every touch
// a first one.
func (m Model) touch(s screen.Touched, k screen.Key) (Model, tea.Cmd) {
	d := map[screen.Key]*press.Detector{screen.BigKey: &m.big, screen.MenuKey: &m.menu, screen.EscapeKey: &m.escape}[k]
	var kind press.Kind
	*d, kind = d.Press(m.o.Now())
	if kind == press.Same || m.starting && k != screen.MenuKey {
		return m, nil
	}
	wasDark := m.dark()
	changed, action, cmd := s.Touch(screen.Touch{Key: k, Kind: kind})
	m, done := m.with(changed).do(action)
	if m.dark() != wasDark {
		m.big, m.menu, m.escape = m.big.Reset(), press.Detector{}, press.Detector{}
	}
	return m, tea.Batch(cmd, done)
}

// helpKey moves the help or closes it.
func (m Model) helpKey(name string) Model {
	h := *m.help
	h.Width, h.Height = m.inner(), m.bodyHeight()
	if name == " " {
		name = "pgdown"
	}
	s, moved := h.Scroll().Key(name)
	if !moved {
		m.help = nil
		return m
	}
	h.First = s.First
	m.help = &h
	return m
}

// leaving answers the question whether to leave.
func (m Model) leaving(name string) (Model, tea.Cmd) {
	m.quitting = false
	if name == "y" {
		return m, tea.Quit
	}
	return m, nil
}
