//go:build unix

package main

// The probe before the checker: nothing that is typed, pasted or resized lights the
// dark, and no way of ending does.

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
)

var sizes = [][2]int{{40, 12}, {80, 24}, {200, 60}}

// perSize runs at each size, at one only unless more was asked for.
func perSize(t *testing.T, run func(t *testing.T, w, h int)) {
	for i, size := range sizes {
		if i > 0 && !e2e {
			break
		}
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			run(t, size[0], size[1])
		})
	}
}

// inputs is how many keys, pastes and resizes the checker does at one seat in each
// light: over 10,000 in the dark alone where everything is asked for.
func inputs() int {
	switch {
	case os.Getenv("WETSIDE_FULL") == "1":
		return 700
	case e2e:
		return 200
	}
	return 10
}

// Keys, pastes and resizes, in the dark and under a safelight, at every size before
// every kind of terminal. What a window gains is the terminal's own until it is
// painted: no resize where that cannot be made black, of which the person is told.
func TestNoKeyLightsTheDark(t *testing.T) {
	t.Parallel()
	for name, f := range emulators {
		for i, size := range sizes {
			noKeyLights(t, name, f, i, size)
		}
	}
}

// noKeyLights does it at one seat.
func noKeyLights(t *testing.T, name string, f emulator, i int, size [2]int) {
	t.Run(fmt.Sprintf("%s at %dx%d", name, size[0], size[1]), func(t *testing.T) {
		t.Parallel()
		s := probeBefore(t, size[0], size[1], f, "")
		r := rand.New(rand.NewPCG(uint64(i), 1))
		n := inputs()
		for _, darken := range []bool{false, true} {
			if darken {
				s.darken()
			}
			for range n {
				s.anything(r, f.kind.SetsColours)
			}
			s.holds()
		}
		s.command("Q")
		time.Sleep(100 * time.Millisecond)
		s.holds()
		s.enter()
	})
}

// anything does something at random that is no command of the probe's.
func (s *terminal) anything(r *rand.Rand, resizes bool) {
	keys := []string{"a", "nnn", " ", "\r", "\x1b", "\x1b[A", "\x1b[5~", "\x1b[6~", "\x1bOP", "\x1b[15~", "\t", "\x7f", "\x03", "\x1a", "\x1c", "é", "日",
		"\x1b[200~LWQP\x1b[201~", "\x1b[200~" + strings.Repeat("paste LW\r\n", 50) + "\x1b[201~", "\x1b]11;rgb:ffff/ffff/ffff\x1b\\"}
	switch what := r.IntN(12); {
	case what == 0 && resizes:
		s.resize(20+r.IntN(200), 6+r.IntN(60))
	case what == 1:
		time.Sleep(20 * time.Millisecond)
	default:
		key := keys[r.IntN(len(keys))]
		s.types(key)
		if time.Sleep(time.Millisecond); key == "\x1b" {
			time.Sleep(30 * time.Millisecond) // a key of its own, not the head of the next
		}
	}
}

// However the screens end in the dark, nothing shines until Enter.
func TestBlackUntilEnter(t *testing.T) {
	t.Parallel()
	ends := map[string]func(s *terminal, child int){
		"kill -9":                    func(s *terminal, child int) { syscall.Kill(child, syscall.SIGKILL) },
		"SIGSEGV":                    func(s *terminal, child int) { syscall.Kill(child, syscall.SIGSEGV) },
		"SIGQUIT":                    func(s *terminal, child int) { syscall.Kill(child, syscall.SIGQUIT) },
		"SIGTERM":                    func(s *terminal, child int) { syscall.Kill(child, syscall.SIGTERM) },
		"SIGTERM for the supervisor": func(s *terminal, child int) { s.cmd.Process.Signal(syscall.SIGTERM) },
		"a panic elsewhere":          func(s *terminal, child int) { s.types("P") },
		"a panic in Update":          func(s *terminal, child int) { s.types("U") },
		"a panic in a command":       func(s *terminal, child int) { s.types("C") },
		"a panic in View":            func(s *terminal, child int) { s.types("V") },
		"leaving politely":           func(s *terminal, child int) { s.types("Q") },
	}
	for name, end := range ends {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			perSize(t, func(t *testing.T, w, h int) {
				s := probeAt(t, w, h, modernTerminal, "")
				child := s.darken()
				end(s, child)
				s.until("the child's end", func() bool { return syscall.Kill(child, 0) != nil })
				s.resize(w+7, h+3)
				s.types("x")
				s.types("\x1b[200~\r\n\x1b[201~")
				time.Sleep(supervisor.IgnoreTypedFor)
				s.resize(w, h)
				s.enter()
			})
		})
	}
}

// A window that grows while the supervisor waits is painted, also where the terminal's
// own background cannot be changed.
func TestWhatGrowsIsPainted(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, vtest.Behaviour{ErasesWithPen: true}, "")
	child := s.darken()
	syscall.Kill(child, syscall.SIGKILL)
	s.until("the child's end", func() bool { return syscall.Kill(child, 0) != nil })
	time.Sleep(supervisor.IgnoreTypedFor)
	s.holds()
	s.allow(sequence.White)
	s.resize(60, 20)
	s.seen("black", func(g *vtest.Terminal) bool { return g.LitCell() == "" })
	s.enter()
}

// Signals that are for the terminal's loss end nothing.
func TestHangUpEndsNothing(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modernTerminal, "")
	child := s.darken()
	for _, sig := range []syscall.Signal{syscall.SIGHUP, syscall.SIGPIPE, syscall.SIGTSTP, syscall.SIGINT} {
		s.cmd.Process.Signal(sig)
		if sig != syscall.SIGINT {
			syscall.Kill(child, sig)
		}
	}
	s.holds()
	s.allow(sequence.Safelight)
	s.types("L")
	s.noted("light safelight") // the child is there and hears
	s.seen("lit cells", func(g *vtest.Terminal) bool { return g.LitCell() != "" })
	s.holds()
	s.allow(sequence.White)
	s.types("Q")
	<-s.ended
	s.givenBack()
}

// A session that is cut off is taken up, three times a minute, in the dark.
func TestSessionIsTakenUp(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modernTerminal, "2031-05-04T2110-plover")
	child := s.darken()
	for range supervisor.MaxRestarts {
		syscall.Kill(child, syscall.SIGKILL)
		s.until("another child", func() bool {
			var now int
			fmt.Sscan(s.lastNote(), &now)
			return now != child && strings.HasSuffix(s.lastNote(), "started resume 2031-05-04T2110-plover")
		})
		fmt.Sscan(s.lastNote(), &child)
		s.holds()
	}
	syscall.Kill(child, syscall.SIGKILL)
	time.Sleep(2 * supervisor.IgnoreTypedFor)
	if !strings.HasPrefix(s.lastNote(), fmt.Sprint(child)) {
		t.Error("taken up a fourth time within a minute")
	}
	s.enter()
	for _, want := range []string{"signal: killed", "screens.log", "wetside resume 2031-05-04T2110-plover", "said by the\ufffd[7m probe"} {
		s.until("the words "+want, func() bool {
			s.mu.Lock()
			defer s.mu.Unlock()
			return strings.Contains(string(s.raw), want)
		})
	}
}

// Taken up too often it waits; then it is tried again, in the dark, for what
// stood in the way may be gone.
func TestSessionIsTakenUpAfterTheRestartWindow(t *testing.T) {
	if ownProcess(t) {
		return
	}
	t.Setenv(probeWindow, "3s")
	s := probeAt(t, 40, 12, modernTerminal, "2031-05-04T2110-plover")
	child := s.darken()
	for range 2*supervisor.MaxRestarts + 1 {
		syscall.Kill(child, syscall.SIGKILL)
		before := child
		s.until("another child", func() bool { child = s.noted("started resume 2031-05-04T2110-plover"); return child != before })
		s.holds()
	}
	s.types("Q") // a polite end is never taken up
	s.until("the child's end", func() bool { return syscall.Kill(child, 0) != nil })
	time.Sleep(supervisor.IgnoreTypedFor)
	s.enter()
	log, err := os.ReadFile(filepath.Join(s.note, "wetside", "screens.log"))
	if n := strings.Count(string(log), "screens ended"); err != nil || n != 2*supervisor.MaxRestarts+2 {
		t.Errorf("screens ended %d times, %v; want %d", n, err, 2*supervisor.MaxRestarts+2)
	}
}

// A panic is in the log, not on the screen.
func TestPanicGoesToTheLog(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modernTerminal, "")
	s.allow(sequence.White)
	s.types("P")
	<-s.ended
	s.givenBack()
	log, err := os.ReadFile(filepath.Join(s.note, "wetside", "screens.log"))
	if err != nil || !strings.Contains(string(log), "panic: in a goroutine") {
		t.Errorf("log %q: %v", log, err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if strings.Contains(string(s.raw), "goroutine ") {
		t.Error("the stack is on the screen")
	}
}

// In white light and without a session the shell comes back at once.
func TestNoWaitingInWhiteLight(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modernTerminal, "")
	s.allow(sequence.White)
	s.types("W")
	child := s.noted("light white")
	syscall.Kill(child, syscall.SIGKILL)
	<-s.ended
	s.givenBack()
	if status := s.cmd.ProcessState.ExitCode(); status != app.ExitFailed {
		t.Errorf("status %d", status)
	}
}

// In red light, in which the screens begin and of which they say nothing, and by safelight film
// may lie open: a session that is cut off is taken up, and where it cannot be the screen stays
// black.
func TestSessionIsTakenUpInRedAndBySafelight(t *testing.T) {
	t.Parallel()
	for name, key := range map[string]string{"in red": "", "by safelight": "L"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			takenUpInLittleLight(t, key)
		})
	}
}

func takenUpInLittleLight(t *testing.T, key string) {
	s := probeAt(t, 40, 12, modernTerminal, "2031-05-04T2110-plover")
	s.allow(sequence.Safelight)
	child := s.noted("started first")
	if key != "" {
		s.types(key)
		s.noted("light safelight")
	}
	for range supervisor.MaxRestarts {
		syscall.Kill(child, syscall.SIGKILL)
		before := child
		s.until("another child", func() bool { child = s.noted("started resume 2031-05-04T2110-plover"); return child != before })
	}
	s.seen("the screens again", func(g *vtest.Terminal) bool { return strings.Contains(g.Text(0), "#") })
	syscall.Kill(child, syscall.SIGKILL)
	time.Sleep(2 * supervisor.IgnoreTypedFor)
	s.holds()
	select {
	case <-s.ended:
		t.Fatal("the shell is back, and film lies open")
	default:
	}
	s.enter()
}

// With one it is taken up in white light too, as often as in the dark; after that the
// shell comes back without a key.
func TestSessionIsTakenUpInWhiteLight(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modernTerminal, "2031-05-04T2110-plover")
	s.allow(sequence.White)
	s.types("W")
	child := s.noted("light white")
	for range supervisor.MaxRestarts {
		syscall.Kill(child, syscall.SIGKILL)
		before := child
		s.until("another child", func() bool { child = s.noted("started resume 2031-05-04T2110-plover"); return child != before })
	}
	syscall.Kill(child, syscall.SIGKILL)
	<-s.ended
	s.givenBack()
	if status := s.cmd.ProcessState.ExitCode(); status != app.ExitFailed {
		t.Errorf("status %d", status)
	}
}

// probeUnderAShell sits down before the probe, started by a shell that waits for its
// child too.
func probeUnderAShell(t *testing.T) *terminal {
	t.Helper()
	dir := t.TempDir()
	cmd := exec.Command("sh", "-c", `"$0" first; while kill -0 "$(cut -d' ' -f1 "$1")" 2>/dev/null; do sleep 0.02; done`,
		"/proc/self/exe", filepath.Join(dir, "note"))
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Args[3] = exe
	cmd.Env = append(os.Environ(), probeAs+"=probe", probeFolder+"="+dir, "XDG_STATE_HOME="+dir, "TERM=xterm-256color")
	s := startAt(t, 40, 12, modernTerminal, cmd)
	s.note = dir
	s.noted("started first")
	return s
}

// The child outlives its supervisor, and does its work itself at its end.
func TestChildOutlivesItsSupervisor(t *testing.T) {
	t.Parallel()
	s := probeUnderAShell(t)
	child := s.darken()
	parent := parentOf(t, child)
	syscall.Kill(parent, syscall.SIGKILL)
	s.until("the supervisor's end", func() bool { return !slices.Contains(childrenOf(parent), child) }) // whoever has its number now
	s.types("Q")
	time.Sleep(2 * supervisor.IgnoreTypedFor)
	s.holds()
	if syscall.Kill(child, 0) != nil {
		t.Fatal("the child died with its supervisor")
	}
	s.enter()
}
