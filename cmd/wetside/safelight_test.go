//go:build unix

package main

// The checker before wetside itself while it carries a session out by safelight: no
// cell has green or blue, and none is brighter than a dim red. And from light to light:
// white, safelight, dark, safelight.

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
)

// dimmest is the most red that may be shown where film lies open: entry 124 of the 256
// colours (xterm's ctlseqs: 55 + 40 x 3).
const dimmest = 175

// orthoRecipe is a film blind to red. Its steps are so long and so many that no key
// struck at random comes to their end.
func orthoRecipe(t *testing.T, lights ...sequence.Light) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("title = \"Dunlin Ortho 16\"\nfilm = { name = \"Dunlin Ortho 16\", sensitivity = \"ortho\", wet_limit = \"10h\" }\n" +
		"load = { vessel = \"single\", sheets = 2, size = \"9x12cm\" }\n")
	for i, l := range lights {
		kind := "other"
		if i < 3 {
			kind = []string{"presoak", "develop", "fix"}[i]
		}
		fmt.Fprintf(&b, "[[step]]\nkind = %q\nname = \"bath %d\"\ntime = \"1h\"\nroom_light = %q\n", kind, i+1, l)
	}
	path := filepath.Join(t.TempDir(), "ortho.toml")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// began counts the steps that have begun, as the journal holds them.
func (s *terminal) began() int { return strings.Count(s.record(), `"event":"step-began"`) }

// bySafelight waits until what is seen is dim and red, and from then on wants it so.
func (s *terminal) bySafelight() {
	s.t.Helper()
	s.seen("dim red", func(g *vtest.Terminal) bool {
		return g.LitCell() != "" && g.NonRedCell() == "" && g.BrighterThan(dimmest) == ""
	})
	s.mu.Lock()
	s.most = dimmest
	s.mu.Unlock()
	s.allow(sequence.Safelight)
}

// As for the dark: at each size before a modern terminal, and before each kind at one
// size; where all is asked for, at every size.
func TestWetsideKeepsToTheSafelight(t *testing.T) {
	t.Parallel()
	for i, size := range sizes {
		for name, f := range emulators {
			if usual := name == "256 colours"; (i > 0 && !usual || !usual && !e2e) && !full || i > 0 && !e2e {
				continue
			}
			keepsToTheSafelight(t, name, f, i, size)
		}
	}
}

func keepsToTheSafelight(t *testing.T, name string, f emulator, i int, size [2]int) {
	t.Run(fmt.Sprintf("%s at %dx%d", name, size[0], size[1]), func(t *testing.T) {
		t.Parallel()
		recipe := orthoRecipe(t, slices.Repeat([]sequence.Light{sequence.Safelight}, 20)...)
		s := wetsideWith(t, f.kind, f.env, "run", recipe, "--sound", "off", "--countdown", "1s")
		s.resize(size[0], size[1])
		s.seen("the plan", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
		s.types("\r")
		s.seen("the danger of so long a session", showing("danger"))
		s.types("y")
		s.bigKey() // to where film may be opened
		s.bySafelight()
		s.until("the first step", func() bool { // a stalled machine takes two touches for one that bounces
			if s.record() == "" {
				s.bigKey()
			}
			return s.began() > 0
		})
		s.inTheSafelight(uint64(i))
		for n, sig := range []syscall.Signal{syscall.SIGKILL, syscall.SIGSEGV, syscall.SIGQUIT} {
			syscall.Kill(s.screensOf(), sig)
			s.until("the session taken up", func() bool { return strings.Count(s.record(), `"event":"resumed"`) == n+1 })
			s.seen("the screens again", func(g *vtest.Terminal) bool { return g.LitCell() != "" })
			s.inTheSafelight(uint64(i) + 10*uint64(n+1))
		}
		s.cmd.Process.Signal(syscall.SIGHUP) // the terminal is said to be gone
		s.inTheSafelight(uint64(i) + 40)
		s.cmd.Process.Signal(syscall.SIGTERM)
		s.until("the screens' end", func() bool { return len(childrenOf(s.cmd.Process.Pid)) == 0 })
		s.seen("black", func(g *vtest.Terminal) bool { return g.LitCell() == "" })
		s.allow(sequence.Dark)
		time.Sleep(2 * supervisor.IgnoreTypedFor)
		s.enter()
	})
}

// inTheSafelight does at random whatever does not end the session; the big key and undo
// move film, from one step by safelight to another.
func (s *terminal) inTheSafelight(seed uint64) {
	s.t.Helper()
	r := rand.New(rand.NewPCG(seed, 4))
	keys := []string{"a", "nnn", "q", "\r", "h", "u", "l", "x", "1", "w", "m", "t22\r", " ", "?", "c", "d", "\x1b", "\x1b[A", "\x1b[5~", "\x1bOP",
		"\x1b[15~", "\t", "\x7f", "\x1a", "\x1c", "日", "\x1b[200~ LWQP yes\r \x1b[201~"}
	n := 40
	if e2e {
		n = 144 // five times at each seat: 10,800 of them before fifteen
	}
	for range n {
		if r.IntN(8) == 0 && s.front.Behaviour.SetsColours {
			s.resize(20+r.IntN(200), 6+r.IntN(60))
		}
		key := keys[r.IntN(len(keys))]
		s.types(key)
		if time.Sleep(3 * time.Millisecond); key == "\x1b" {
			time.Sleep(30 * time.Millisecond) // a key of its own, not the head of the next
		}
	}
	time.Sleep(200 * time.Millisecond)
	s.holds()
}

// Through every change of light there is, by the hand of whoever carries it out.
func TestFromLightToLight(t *testing.T) {
	t.Parallel()
	for name, f := range emulators {
		if name != "256 colours" && !e2e {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			recipe := orthoRecipe(t, sequence.White, sequence.Safelight, sequence.Dark, sequence.Safelight)
			s := wetsideWith(t, f.kind, f.env, "run", recipe, "--sound", "off", "--countdown", "1s")
			s.prepared()
			s.until("the session", func() bool { s.bigKey(); return s.record() != "" })
			s.holds()
			s.allow(sequence.White)
			s.until("the first step", func() bool { return s.began() == 1 })
			s.seen("white light", func(g *vtest.Terminal) bool { return g.NonRedCell() != "" })
			time.Sleep(touchGap)
			s.types(" ")
			s.until("the second step", func() bool { return s.began() == 2 })
			s.bySafelight()
			s.inWords()
			s.bigKey() // what was struck last may have been one
			s.until("the third step", func() bool { return s.began() == 3 })
			s.seen("black", func(g *vtest.Terminal) bool { return g.LitCell() == "" })
			s.allow(sequence.Dark)
			s.inWords()
			s.twoTouches("the last step", func() bool { return s.began() == 4 })
			s.inWords() // it stays black: light is only offered
			s.until("the light", func() bool {
				s.mu.Lock()
				s.light = sequence.Safelight // dim and red from here on
				s.mu.Unlock()
				s.bigKey()
				s.mu.Lock()
				defer s.mu.Unlock()
				return s.front.LitCell() != ""
			})
			s.inWords()
			s.types("s")
			s.types("\x1b[C") // from no to yes
			s.types("\r")
			s.until("the end", func() bool { return strings.Contains(s.record(), `"session-stopped"`) })
			s.seen("the summary", showing("Summary")) // where film still lies by safelight
			s.holds()
			s.allow(sequence.White)
			s.until("the shell", func() bool {
				s.types("\x03")
				select {
				case <-s.ended:
					return true
				case <-time.After(200 * time.Millisecond):
					return false
				}
			})
			s.givenBack()
		})
	}
}

// inWords types what moves nothing on and asks for no light.
func (s *terminal) inWords() {
	s.t.Helper()
	s.types("qw日\t\x1b[A\x1b[200~ yes \r\x1b[201~")
	if s.front.Behaviour.SetsColours {
		s.resize(132, 43)
		time.Sleep(50 * time.Millisecond)
		s.resize(80, 24)
	}
	time.Sleep(500 * time.Millisecond)
	s.holds()
}
