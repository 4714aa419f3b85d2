package light

// The console of Windows obeys escape sequences only where it is asked to, and before
// Windows 10 not at all: it would show them as text, bright in the dark.

import (
	"os"

	"golang.org/x/sys/windows"
)

// bareTerminal is what a terminal can whose TERM is not set: Windows sets none, and its
// console knows 24 bits wherever it obeys escape sequences (Microsoft, "Console Virtual
// Terminal Sequences").
const bareTerminal = FullColour

// Obeys tells whether a terminal obeys escape sequences when it is asked to. It is left as it was.
func Obeys(tty *os.File) bool {
	undo, err := askToObey(tty)
	if err != nil {
		return false
	}
	undo()
	return true
}

// enableEscapes makes the terminal obey escape sequences; undo makes it as it was.
func enableEscapes(g *Guard) (undo func()) {
	undo, err := askToObey(g.tty)
	if err != nil {
		return func() {}
	}
	return undo
}

func askToObey(tty *os.File) (undo func(), err error) {
	out := windows.Handle(tty.Fd())
	var was uint32
	if err := windows.GetConsoleMode(out, &was); err != nil {
		return nil, err
	}
	if err := windows.SetConsoleMode(out, was|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING); err != nil {
		return nil, err
	}
	return func() { windows.SetConsoleMode(out, was) }, nil
}
