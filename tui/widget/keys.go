package widget

// The line of keys at the foot.

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
)

// AllKeys opens the help; it ends every foot.
var AllKeys = key.NewBinding(key.WithKeys("?"), key.WithHelp("?", "all keys"))

// Bind is keys, as bubbletea names them, with the word that foot and help say of them.
func Bind(keys, word string) key.Binding {
	return key.NewBinding(key.WithKeys(keys), key.WithHelp(keys, word))
}

// mostKeys is how many keys a foot has at most.
const mostKeys = 7

// Keys is the foot of a screen: the keys that matter, each with a word, the most important
// first. Where there is no room the last of them are left out, never AllKeys, which has them all.
func Keys(width int, bindings ...key.Binding) string { return foot(width, &AllKeys, bindings) }

// KeysAlone is a foot where ? opens nothing: something is typed, or the help is open.
func KeysAlone(width int, bindings ...key.Binding) string { return foot(width, nil, bindings) }

func foot(width int, end *key.Binding, bindings []key.Binding) string {
	const gap = "   "
	var last []string
	room := width + len(gap)
	if end != nil {
		last = []string{named(*end)}
		room = width - ansi.StringWidth(last[0])
	}
	var shown []string
	for _, b := range bindings {
		if !b.Enabled() || b.Help().Key == "" || b.Help().Key == AllKeys.Help().Key {
			continue
		}
		k := named(b)
		if room -= ansi.StringWidth(k) + len(gap); room < 0 || len(shown) == mostKeys-1 {
			break
		}
		shown = append(shown, k)
	}
	return Truncate(strings.Join(append(shown, last...), gap), width)
}

func named(b key.Binding) string {
	return style.Key.Render(b.Help().Key) + " " + style.Label(b.Help().Desc)
}
