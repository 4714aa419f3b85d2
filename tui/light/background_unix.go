//go:build unix

package light

// Asking the terminal for its background, for who it is, and whether it tells when a key is
// let go.

import (
	"time"

	"golang.org/x/sys/unix"
	"golang.org/x/term"

	"example.org/wetside/tui/ttywait"
)

// How long an answer is waited for, and how long for the background's once the terminal has
// said who it is: some answer that first. What comes later is known for an answer by
// whoever reads the keys.
const (
	answerTimeout = 400 * time.Millisecond
	linger        = 100 * time.Millisecond
)

// ask puts the questions, and last who the terminal is: nearly every terminal answers that,
// and by then has answered the others if it ever will.
func ask(g *Guard) (answer string) {
	fd := int(g.tty.Fd())
	was, err := term.MakeRaw(fd)
	if err != nil {
		return ""
	}
	defer term.Restore(fd, was)
	if _, err := g.tty.WriteString(questions); err != nil {
		return ""
	}
	buf := make([]byte, 256)
	until := time.Now().Add(answerTimeout)
	for known := false; len(answer) < 4096 && !(known && hasBackground(answer)); {
		left := time.Until(until)
		if left <= 0 {
			break
		}
		ready, err := ttywait.For(left, uintptr(fd))
		if err != nil {
			break
		}
		if !ready[0] {
			continue
		}
		n, err := unix.Read(fd, buf)
		if n <= 0 || err != nil {
			break
		}
		answer += string(buf[:n])
		if !known && hasDeviceAttributes(answer) {
			known = true
			if end := time.Now().Add(linger); end.Before(until) {
				until = end
			}
		}
	}
	return answer
}
