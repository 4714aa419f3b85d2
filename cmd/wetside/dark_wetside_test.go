//go:build unix

package main

// The checker before wetside itself: into the dark, through a session that is cut
// off there, and out again.

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/room/glass"
)

// bigKey is a touch of the big key, far enough from the last and the next.
func (s *seat) bigKey() {
	s.types(" ")
	time.Sleep(touchesApart + 100*time.Millisecond)
}

// intoTheDark opens a recipe and presses on until the screen is black.
func intoTheDark(t *testing.T, w, h int) *seat {
	t.Helper()
	s := wetsideAt(t, modern, "run", "tern-hangers", "--sound", "off")
	s.resize(w, h)
	s.seen("the plan", func(g *glass.Glass) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
	s.allow(sequence.Safelight)
	s.until("black", func() bool { // Enter to the preparation; there and in the dark it does nothing
		s.types("\r")
		s.bigKey()
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.front.Lit() == ""
	})
	s.holds()
	s.allow(sequence.Dark)
	return s
}

// all is what can be read.
func all(g *glass.Glass) string {
	var b strings.Builder
	_, h := g.Size()
	for y := range h {
		b.WriteString(g.Text(y) + "\n")
	}
	return b.String()
}

// screensOf is the child of the keeper.
func (s *seat) screensOf() (pid int) {
	s.t.Helper()
	s.until("the screens' process", func() bool {
		if list := childrenOf(s.cmd.Process.Pid); len(list) > 0 {
			pid = list[0]
		}
		return pid > 0
	})
	return pid
}

// record is what the journals hold.
func (s *seat) record() string {
	names, _ := filepath.Glob(filepath.Join(s.note, "wetside", "sessions", "*.jsonl"))
	var b strings.Builder
	for _, name := range names {
		text, _ := os.ReadFile(name)
		b.Write(text)
	}
	return b.String()
}

func TestWetsideKeepsTheDark(t *testing.T) {
	t.Parallel()
	for i, size := range sizes {
		if i > 0 && !e2e {
			break
		}
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			s := intoTheDark(t, size[0], size[1])
			s.inTheDark(uint64(i)) // while film is loaded
			s.bigKey()
			s.types(" ")
			s.until("the session", func() bool { return strings.Contains(s.record(), `"session-began"`) })
			s.inTheDark(uint64(i) + 10)
			for n := 1; n <= 2; n++ {
				syscall.Kill(s.screensOf(), syscall.SIGKILL)
				s.until("the session taken up", func() bool { return strings.Count(s.record(), `"event":"resumed"`) == n })
				s.inTheDark(uint64(i) + 20)
			}
			s.cmd.Process.Signal(syscall.SIGTERM)
			s.until("the screens' end", func() bool {
				return len(childrenOf(s.cmd.Process.Pid)) == 0
			})
			time.Sleep(2 * typedAhead)
			s.enter()
		})
	}
}

// inTheDark does at random whatever does not ask for light: the big key stays out
// of it, and so does escape, which twice brings the light back before a session.
func (s *seat) inTheDark(seed uint64) {
	s.t.Helper()
	r := rand.New(rand.NewPCG(seed, 2))
	keys := []string{"a", "nnn", "q", "\r", "h", "u", "l", "w", "s", "m", "t22\r", "\x1b[A", "\x1b[5~", "\x1bOP", "\x1b[15~", "\t", "\x7f", "\x03", "\x1a",
		"\x1c", "日", "\x1b[200~ LWQP  \x1b[201~"}
	n := 40
	if e2e {
		n = 400
	}
	for range n {
		if r.IntN(8) == 0 {
			s.resize(20+r.IntN(200), 6+r.IntN(60))
		}
		s.types(keys[r.IntN(len(keys))])
		time.Sleep(3 * time.Millisecond)
	}
	time.Sleep(200 * time.Millisecond)
	s.holds()
}
