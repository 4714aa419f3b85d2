//go:build unix

package supervisor

import (
	"fmt"
	"os"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/ttywait"
	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// When the screens have ended: the terminal as it was, and what the person should know.

// restoreTerminal gives the terminal back as it was. What was typed and nobody read does not
// reach the shell.
func (k *supervisor) restoreTerminal() {
	fd := int(os.Stdin.Fd())
	if _, err := term.MakeRaw(fd); err == nil {
		drain(fd)
	}
	k.guard.End()
	term.Restore(fd, k.saved)
}

// drain reads what there is without waiting.
func drain(fd int) {
	buf := make([]byte, 4096)
	for range 64 {
		if ready, err := ttywait.For(0, uintptr(fd)); err != nil || !ready[0] {
			return
		}
		if n, err := unix.Read(fd, buf); n <= 0 || err != nil {
			return
		}
	}
}

// printFarewell writes what the person should know now that the shell is back.
func (k *supervisor) printFarewell(ended string) {
	for _, line := range k.state.messages {
		fmt.Fprintf(os.Stderr, "wetside: %s\n", safetext.Clean(line))
	}
	if k.state.saidBye {
		return
	}
	fmt.Fprintf(os.Stderr, "wetside: the screens ended unexpectedly: %s\n", safetext.Clean(ended))
	if k.logName != "" {
		fmt.Fprintf(os.Stderr, "hint: %s says more\n", safetext.Clean(k.logName))
	}
	if k.state.session != "" {
		fmt.Fprintf(os.Stderr, "hint: wetside resume %s takes the session up\n", safetext.Clean(k.state.session))
	}
}
