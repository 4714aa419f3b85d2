//go:build unix

package main

// The checker before wetside itself: into the dark, through a session that is cut
// off there, and out again.

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

// touchGap is how far two touches are apart: no bounce, and quiet between them.
const touchGap = 500 * time.Millisecond

// bigKey is a touch of the big key, far enough from the last and the next.
func (s *terminal) bigKey() {
	s.types(" ")
	time.Sleep(touchGap)
}

// twoTouches of the big key, until they have done what they are for: where the machine
// stalls two may come as one, or too far apart.
func (s *terminal) twoTouches(what string, done func() bool) {
	s.t.Helper()
	s.until(what, func() bool {
		s.bigKey()
		s.types(" ")
		for until := time.Now().Add(10 * time.Second); !done(); time.Sleep(5 * time.Millisecond) {
			if time.Now().After(until) {
				return false
			}
		}
		return true
	})
}

// begins is the session begun, in the dark.
func (s *terminal) begins() {
	s.t.Helper()
	s.twoTouches("the session", func() bool { return strings.Contains(s.record(), `"session-began"`) })
}

// intoTheDark opens a recipe before a terminal and presses on until the screen is black.
func intoTheDark(t *testing.T, f emulator, w, h int, env ...string) *terminal {
	t.Helper()
	return intoTheDarkWith(t, "off", f, w, h, env...)
}

// intoTheDarkWith does it with sound.
func intoTheDarkWith(t *testing.T, sound string, f emulator, w, h int, env ...string) *terminal {
	t.Helper()
	s := wetsideWith(t, f.kind, slices.Concat(f.env, env), "run", "tern-hangers", "--sound", sound)
	s.resize(w, h)
	s.prepared()
	s.darkens()
	return s
}

// prepared goes from the plan to the preparation and answers all that is asked there. From
// the answer about the panel on nothing may be green or blue.
func (s *terminal) prepared() {
	s.t.Helper()
	s.seen("the plan", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
	s.types("\r")
	s.seen("the preparation", showing("Prepare:"))
	s.types("y") // to a danger, where there is one
	s.types("c")
	s.seen("red", func(g *vtest.Terminal) bool { return g.LitCell() != "" && g.NonRedCell() == "" })
	s.allow(sequence.Safelight)
	s.types("yy") // a background that is not known to be black, no sound; where neither is asked it says nothing
}

// darkens touches the big key until the screen is black, and wants it so from then on. A terminal
// that is slow to tell its background is asked about: that is one more yes.
func (s *terminal) darkens() {
	s.t.Helper()
	s.until("black", func() bool {
		s.types("y")
		s.bigKey()
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.front.LitCell() == ""
	})
	s.holds()
	s.allow(sequence.Dark)
}

// all is what can be read.
func all(g *vtest.Terminal) string {
	var b strings.Builder
	_, h := g.Size()
	for y := range h {
		b.WriteString(g.Text(y) + "\n")
	}
	return b.String()
}

// screensOf is the child of the supervisor.
func (s *terminal) screensOf() (pid int) {
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
func (s *terminal) record() string {
	names, _ := filepath.Glob(filepath.Join(s.note, "wetside", "sessions", "*.jsonl"))
	var b strings.Builder
	for _, name := range names {
		text, _ := os.ReadFile(name)
		b.Write(text)
	}
	return b.String()
}

// At each size before a modern terminal, and before each kind at one size: where all
// is asked for, at every size.
func TestWetsideKeepsTheDark(t *testing.T) {
	t.Parallel()
	for i, size := range sizes {
		for name, f := range emulators {
			if usual := name == "256 colours"; i > 0 && !usual && !full || (i > 0 || !usual) && !e2e {
				continue
			}
			keepsTheDark(t, name, f, i, size)
		}
	}
}

func keepsTheDark(t *testing.T, name string, f emulator, i int, size [2]int) {
	t.Run(fmt.Sprintf("%s at %dx%d", name, size[0], size[1]), func(t *testing.T) {
		t.Parallel()
		s := intoTheDark(t, f, size[0], size[1])
		s.inTheDark(uint64(i)) // while film is loaded
		s.begins()
		s.inTheDark(uint64(i) + 10)
		for n, sig := range []syscall.Signal{syscall.SIGKILL, syscall.SIGSEGV, syscall.SIGQUIT} {
			syscall.Kill(s.screensOf(), sig)
			s.until("the session taken up", func() bool { return strings.Count(s.record(), `"event":"resumed"`) == n+1 })
			s.inTheDark(uint64(i) + 20)
		}
		s.cmd.Process.Signal(syscall.SIGHUP) // the terminal is said to be gone
		s.inTheDark(uint64(i) + 30)
		s.cmd.Process.Signal(syscall.SIGTERM)
		s.until("the screens' end", func() bool {
			return len(childrenOf(s.cmd.Process.Pid)) == 0
		})
		time.Sleep(2 * supervisor.IgnoreTypedFor)
		s.enter()
	})
}

// inTheDark does at random whatever does not ask for light: the big key stays out
// of it, and so does escape, which twice brings the light back before a session.
func (s *terminal) inTheDark(seed uint64) {
	s.t.Helper()
	r := rand.New(rand.NewPCG(seed, 2))
	keys := []string{"a", "nnn", "q", "\r", "h", "u", "l", "w", "s", "m", "t22\r", "\x1b[A", "\x1b[5~", "\x1bOP", "\x1b[15~", "\t", "\x7f", "\x03", "\x1a",
		"\x1c", "日", "\x1b[200~ LWQP  \x1b[201~"}
	n := 40
	if e2e {
		n = 120 // six times at each seat: 10,800 of them before fifteen
	}
	for range n {
		if r.IntN(8) == 0 && s.front.Behaviour.SetsColours {
			s.resize(20+r.IntN(200), 6+r.IntN(60))
		}
		s.types(keys[r.IntN(len(keys))])
		time.Sleep(3 * time.Millisecond)
	}
	time.Sleep(200 * time.Millisecond)
	s.holds()
}

// redDesk is a folder with the setting by which the desk is red too, and the variable that
// leads to it.
func redDesk(t *testing.T) (dir, variable string) {
	t.Helper()
	dir = t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "wetside"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "wetside", "config.toml"), []byte("palette = \"red\"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	return dir, "XDG_CONFIG_HOME=" + dir
}

// Where the settings want it every screen is red, whatever is typed on it: no cell has green
// or blue. Each is opened from the list, and left by escape.
func TestEveryLitScreenIsRed(t *testing.T) {
	t.Parallel()
	for name, f := range emulators {
		if name != "256 colours" && !e2e {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, red := redDesk(t)
			s := wetsideWith(t, f.kind, append(slices.Clone(f.env), red))
			s.resize(120, 40)
			list := showing("N notebook")
			s.seen("the list", list)
			s.allow(sequence.Safelight)
			for i, key := range []string{"n", "N", "b", "h", "d", "l", "t", "c", "\r"} {
				s.opens(key, "another screen", func(g *vtest.Terminal) bool { return !list(g) })
				s.scribbles(uint64(i))
				s.returns(list)
				s.holds()
			}
			s.opens("?", "the help", showing("Leaving"))
			s.returns(list)
			s.opens("r", "the rehearsal", func(g *vtest.Terminal) bool {
				return strings.Contains(strings.ReplaceAll(all(g), "×", "x"), "Rehearsal 30x")
			})
			s.scribbles(9)
			s.holds()
		})
	}
}

// opens types a key until what it opens is there: where the terminal is read late, an escape
// before it and the key are one, with alt.
func (s *terminal) opens(key, what string, yes func(*vtest.Terminal) bool) {
	s.t.Helper()
	var typed time.Time
	s.seen(what, func(g *vtest.Terminal) bool {
		if !yes(g) && time.Since(typed) > 5*time.Second {
			typed = time.Now()
			s.types(key)
		}
		return yes(g)
	})
}

// returns goes back to a screen by escape, and by yes where leaving is asked about: the one
// and the other at random, since either may open what the other would close.
func (s *terminal) returns(to func(*vtest.Terminal) bool) {
	s.t.Helper()
	r := rand.New(rand.NewPCG(5, 3))
	s.until("the way back", func() bool {
		s.mu.Lock()
		there := to(s.front)
		s.mu.Unlock()
		if !there {
			s.types([]string{"\x1b", "\x1b", "y"}[r.IntN(3)])
			time.Sleep(150 * time.Millisecond)
		}
		return there
	})
}

// scribbles types what neither leaves the program nor opens an editor.
func (s *terminal) scribbles(seed uint64) {
	r := rand.New(rand.NewPCG(seed, 3))
	keys := []string{"a", "c", "o", "t", "+", "-", "1", "2.5", "x", "g", "/", "日", "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\t", "\x7f",
		"\x1b[200~ LWQP  \x1b[201~"}
	for range 40 {
		s.types(keys[r.IntN(len(keys))])
		time.Sleep(5 * time.Millisecond)
	}
	time.Sleep(100 * time.Millisecond)
}
