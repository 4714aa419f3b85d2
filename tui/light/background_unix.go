//go:build unix

package light

// Asking the terminal for its background.

import (
	"strings"
	"time"

	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// answerTimeout is how long an answer is waited for.
const answerTimeout = 400 * time.Millisecond

// askBackground asks for the background, then who the terminal is: nearly every terminal
// answers the second, and by then has answered the first if it ever will.
func (g *Guard) askBackground() bool {
	fd := int(g.tty.Fd())
	was, err := term.MakeRaw(fd)
	if err != nil {
		return false
	}
	defer term.Restore(fd, was)
	if _, err := g.tty.WriteString("\x1b]11;?\x1b\\\x1b[c"); err != nil {
		return false
	}
	var answer []byte
	buf := make([]byte, 256)
	for until := time.Now().Add(answerTimeout); !hasDeviceAttributes(string(answer)) && len(answer) < 4096; {
		left := time.Until(until).Milliseconds()
		if left <= 0 {
			break
		}
		n, err := unix.Poll([]unix.PollFd{{Fd: int32(fd), Events: unix.POLLIN}}, int(left))
		if err == unix.EINTR || n == 0 && err == nil {
			continue
		}
		if n, err = unix.Read(fd, buf); n <= 0 || err != nil {
			break
		}
		answer = append(answer, buf[:n]...)
	}
	return isBlack(string(answer))
}

// hasDeviceAttributes tells whether the terminal said who it is: CSI ? … c.
func hasDeviceAttributes(answer string) bool {
	_, rest, found := strings.Cut(answer, "\x1b[?")
	return found && strings.HasPrefix(strings.TrimLeft(rest, "0123456789;"), "c")
}
