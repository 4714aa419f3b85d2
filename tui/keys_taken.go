package tui

// Taken are the keys that mean something else where the big key and the menu's count, on
// the screens that prepare and run a session: these cannot be one of them.
func Taken() []string {
	return []string{"up", "down", "left", "right", "tab", "shift+tab", "pgup", "enter", "esc", "backspace", "?", "ctrl+c",
		"a", "c", "h", "l", "n", "o", "s", "t", "u", "w", "x", "y"}
}
