package backend

// The keyboard while the screens are drawn: raw, and given back when they are left.

import (
	"os"

	"golang.org/x/term"
)

// Keyboard is the terminal's input while the screens are drawn: keys arrive as they
// are typed.
type Keyboard struct {
	In    *os.File
	saved *term.State // nil where nothing was changed
}

// Raw has keys arrive as they are typed.
func (k *Keyboard) Raw() {
	if was, err := term.MakeRaw(int(k.In.Fd())); err == nil {
		k.saved = was
	}
}

// Restore makes the terminal as it was.
func (k *Keyboard) Restore() {
	if k.saved != nil {
		term.Restore(int(k.In.Fd()), k.saved)
	}
}
