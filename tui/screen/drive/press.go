package drive

// Keys, for a screen that is worked as a value of its own type.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
)

var special = map[string]tea.KeyType{"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "backspace": tea.KeyBackspace,
	"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "ctrl+u": tea.KeyCtrlU,
	"space": tea.KeySpace, "f5": tea.KeyF5}

// Key is a key by bubbletea's name; what is no name of one is typed.
func Key(name string) tea.KeyMsg {
	if t, ok := special[name]; ok {
		return tea.KeyMsg{Type: t}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// Press gives keys to a screen; it tells what the last of them asked for.
func Press[S screen.Screen](s S, keys ...string) (S, screen.Action, tea.Cmd) {
	var action screen.Action
	var cmd tea.Cmd
	for _, k := range keys {
		var next screen.Screen
		next, action, cmd = s.Update(Key(k))
		s = next.(S)
	}
	return s, action, cmd
}
