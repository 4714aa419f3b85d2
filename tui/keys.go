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
		if m.dark() || !m.stack.top().About().Typing {
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
	about := m.stack.top().About()
	switch {
	case m.quitting:
		if m.quitting = false; name == "y" {
			return m, tea.Quit
		}
		return m, nil
	case m.help != nil:
		m.help = m.frame().read(*m.help, name)
		return m, nil
	case name == "?" && !about.Typing:
		m.help = &about.Help
		return m, nil
	case name == "ctrl+c":
		return m.interrupt()
	}
	if s, ok := m.stack.top().(screen.Touched); ok && !about.Typing {
		if k, is := m.o.Keys.Of(name); is && k == screen.BigKey {
			return m.touch(s, k)
		}
	}
	return m.give(msg)
}

// interrupt leaves, or asks the screen what it means here.
func (m Model) interrupt() (Model, tea.Cmd) {
	s, ok := m.stack.top().(screen.Interrupted)
	if !ok {
		return m.do(screen.Quit{})
	}
	next, action, cmd := s.Interrupt()
	m, done := m.with(next).do(action)
	return m, tea.Batch(cmd, done)
}

// inDark is all that a key can do while no cell is lit.
func (m Model) inDark(name string) (Model, tea.Cmd) {
	s, ok := m.stack.top().(screen.Touched)
	k, is := m.o.Keys.Of(name)
	if !ok || !is {
		return m, nil
	}
	return m.touch(s, k)
}

// touch counts a key and gives the screen what counts. A change of light makes every touch
// a first one.
func (m Model) touch(s screen.Touched, k screen.Key) (Model, tea.Cmd) {
	felt, kind := m.touches.felt(k, m.o.Now())
	m.touches = felt
	if kind == press.Same || m.starting && k != screen.MenuKey {
		return m, nil
	}
	wasDark := m.dark()
	changed, action, cmd := s.Touch(screen.Touch{Key: k, Kind: kind})
	m, done := m.with(changed).do(action)
	if m.dark() != wasDark {
		m.touches = m.touches.anew()
	}
	return m, tea.Batch(cmd, done)
}
