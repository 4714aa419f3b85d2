package light

// The console of Windows obeys escape sequences only where it is asked to.

import "golang.org/x/sys/windows"

// enableEscapes makes the terminal obey escape sequences; undo makes it as it was.
func (g *Guard) enableEscapes() (undo func()) {
	out := windows.Handle(g.tty.Fd())
	var was uint32
	if windows.GetConsoleMode(out, &was) != nil || windows.SetConsoleMode(out, was|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING) != nil {
		return func() {}
	}
	return func() { windows.SetConsoleMode(out, was) }
}
