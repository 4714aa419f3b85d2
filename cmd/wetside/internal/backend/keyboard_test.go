package backend

// Each key has bubbletea's name for it, so that screens and settings know it.

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/keyboard"
)

func TestKeysHaveTheLibrarysNames(t *testing.T) {
	for bytes, want := range map[string]string{"a": "a", " ": " ", "\r": "enter", "\x1b[A": "up", "\x1b[Z": "shift+tab", "\x1b[6~": "pgdown",
		"\x1b[15~": "f5", "\x1b[1;2P": "f13", "\x03": "ctrl+c", "\x15": "ctrl+u", "\x7f": "backspace", "\x1bb": "alt+b", "\x1b[1;5C": "ctrl+right",
		"\x1b[1;3D": "alt+left", "é": "é", "\x1b[97;5u": "ctrl+a", "\x1b[32;1:1u": " ", "\x1b[27u": "esc", "\x1b[65;2;65u": "A", "\x1c": `ctrl+\`} {
		var p keyboard.Parser
		list := p.Feed([]byte(bytes))
		if len(list) != 1 {
			t.Errorf("%q: %v", bytes, list)
			continue
		}
		msg, is := message(list[0]).(tea.KeyMsg)
		if !is || msg.String() != want {
			t.Errorf("%q is %q; want %q", bytes, msg, want)
		}
	}
}
