//go:build unix

package light

import (
	"testing"

	"github.com/creack/pty"
	"golang.org/x/term"
)

// What a terminal answers is read, were it a byte. It is there before it is asked for: only a
// machine that stands still for all of the wait misses it, and three times it does not.
func TestATerminalsWordIsTaken(t *testing.T) {
	for _, answer := range []string{"\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[>41;379;0c\x1b[?62;22c", "x"} {
		got := ""
		for range 3 {
			master, tty, err := pty.Open()
			if err != nil {
				t.Skip("no terminal: ", err)
			}
			if _, err := term.MakeRaw(int(tty.Fd())); err != nil {
				t.Fatal(err)
			}
			if _, err := master.WriteString(answer); err != nil {
				t.Fatal(err)
			}
			got = ask(NewGuard(tty))
			tty.Close()
			master.Close()
			if got == answer {
				break
			}
		}
		if got != answer {
			t.Errorf("%q; want %q", got, answer)
		}
	}
}
