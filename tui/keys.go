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

// What the keyboard tells besides keys (tui/keyboard).
type (
	QuietMsg    struct{}                 // no key has come for press.Silence
	HeldMsg     struct{ Key tea.KeyMsg } // the terminal says that a key is held down
	ReleasedMsg struct{ Key string }     // and that it was let go
)

// held types a key again that is held down; a key for wet hands is touched once, however long.
func (m Model) held(msg HeldMsg) (Model, tea.Cmd) {
	if _, is := m.o.Keys.Of(msg.Key.String()); is && !m.stack.top().About().Typing || m.dark() {
		return m, nil
	}
	return m.keys(msg.Key)
}

// quiet gives the screen the touches that only silence tells from a key held down.
func (m Model) quiet() (Model, tea.Cmd) {
	var cmds []tea.Cmd
	for i := range m.touches {
		k := screen.Key(i)
		var kind press.Kind
		if m.touches[k], kind = m.touches[k].Quiet(); kind == press.Same {
			continue
		}
		if s, ok := m.stack.top().(screen.Touched); ok && (m.dark() || k == screen.BigKey && !m.stack.top().About().Typing) {
			var cmd tea.Cmd
			m, cmd = m.touched(s, k, kind)
			cmds = append(cmds, cmd)
		}
	}
	return m, tea.Batch(cmds...)
}

// key takes one key. While no cell is lit it can be no more than a touch.
func (m Model) key(msg tea.KeyMsg) (Model, tea.Cmd) {
	name := msg.String()
	wet, is := m.o.Keys.Of(name)
	m.touches = m.touches.other(wet, is)
	touched, ok := m.stack.top().(screen.Touched)
	if m.dark() {
		if !ok || !is {
			return m, nil
		}
		return m.touch(touched, wet)
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
		m.help = frameOf(m).read(*m.help, name)
		return m, nil
	case name == "?" && !about.Typing:
		m.help = openHelp(about, m.o.Backend)
		return m, nil
	case name == "ctrl+c":
		return m.interrupt()
	}
	if ok && !about.Typing && is && wet == screen.BigKey {
		return m.touch(touched, wet)
	}
	if is {
		m.touches = m.touches.passed(wet, m.o.Now())
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

// touch counts a key and gives the screen what counts.
func (m Model) touch(s screen.Touched, k screen.Key) (Model, tea.Cmd) {
	felt, kind := m.touches.felt(k, m.o.Now())
	if m.touches = felt; kind == press.Same {
		return m, nil
	}
	return m.touched(s, k, kind)
}

// touched gives the screen a touch that counts. A change of light makes every touch a first
// one, and of another screen too what is held.
func (m Model) touched(s screen.Touched, k screen.Key, kind press.Kind) (Model, tea.Cmd) {
	if m.starting && k != screen.MenuKey {
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
