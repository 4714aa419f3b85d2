//go:build unix

package main

// The checker: a program on a pty before a terminal with white defaults, every cell
// looked at after every read.

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/room/glass"
)

// e2e makes missing parts a failure, and tests longer.
var e2e = os.Getenv("WETSIDE_E2E") == "1"

// patience is how long anything is waited for.
const patience = 10 * time.Second

// seat is somebody before a terminal on which a program runs.
type seat struct {
	t           *testing.T
	cmd         *exec.Cmd
	master, tty *os.File
	stty        string // before the program
	ended       chan struct{}
	done        chan struct{} // the reader has seen all

	mu    sync.Mutex
	front *glass.Glass
	light sequence.Light // what is allowed from now on
	wrong string         // the first cell that should not have been lit
	raw   []byte         // all that was written
	note  string
}

var modern = glass.Kind{Erases: true, Obeys: true, Answers: true}

// sit starts a program on a terminal of that size.
func sit(t *testing.T, w, h int, kind glass.Kind, cmd *exec.Cmd) *seat {
	t.Helper()
	master, tty, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	s := &seat{t: t, cmd: cmd, master: master, tty: tty, front: glass.New(w, h, kind), light: sequence.White,
		ended: make(chan struct{}), done: make(chan struct{})}
	pty.Setsize(master, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)})
	s.stty = s.settings()
	cmd.Stdin, cmd.Stdout, cmd.Stderr = tty, tty, tty
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go s.watch()
	go func() {
		cmd.Wait()
		close(s.ended)
	}()
	t.Cleanup(s.leave)
	return s
}

// leave ends what is left: all that runs in the terminal's session.
func (s *seat) leave() {
	for range 3 { // the keeper, and what it had just started
		out, _ := exec.Command("ps", "-o", "pid=", "-s", fmt.Sprint(s.cmd.Process.Pid)).Output()
		for _, word := range strings.Fields(string(out)) {
			var pid int
			if fmt.Sscan(word, &pid); pid > 1 {
				syscall.Kill(pid, syscall.SIGKILL)
			}
		}
	}
	<-s.ended
	s.tty.Close()
	s.master.Close()
	<-s.done
}

// watch reads and looks, until the terminal is closed.
func (s *seat) watch() {
	defer close(s.done)
	buf := make([]byte, 4096)
	for {
		n, err := s.master.Read(buf)
		if n > 0 {
			s.look(buf[:n])
		}
		if err != nil {
			return
		}
	}
}

func (s *seat) look(p []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.raw = append(s.raw, p...)
	s.front.Write(p)
	s.check(fmt.Sprintf("after %.300q", p))
	if len(s.front.Reply) > 0 {
		s.master.Write(s.front.Reply)
		s.front.Reply = nil
	}
}

// check notes the first cell that the light forbids.
func (s *seat) check(when string) {
	bad := ""
	switch s.light {
	case sequence.Dark:
		bad = s.front.Lit()
	case sequence.Safelight:
		bad = s.front.Cold()
	}
	if bad != "" && s.wrong == "" {
		s.wrong = bad + " " + when
	}
}

// from now on nothing but that light is allowed.
func (s *seat) allow(l sequence.Light) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.light = l
	s.check("at once")
}

func (s *seat) types(keys string) { s.master.WriteString(keys) }

// command types one of the probe's keys, apart from an escape typed before it.
func (s *seat) command(key string) {
	s.types("x")
	time.Sleep(50 * time.Millisecond)
	s.types(key)
}

// resize makes the window another size, the terminal first.
func (s *seat) resize(w, h int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.front.Resize(w, h)
	s.check("after a resize")
	pty.Setsize(s.master, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)})
}

// settings are all that stty -a tells, but the size of the window.
func (s *seat) settings() string {
	s.t.Helper()
	c := exec.Command("stty", "-g")
	c.Stdin = s.tty
	out, err := c.Output()
	if err != nil {
		s.t.Fatal(err)
	}
	return string(out)
}

// until waits for something.
func (s *seat) until(what string, yes func() bool) {
	s.t.Helper()
	for end := time.Now().Add(patience); !yes(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			s.mu.Lock()
			defer s.mu.Unlock()
			s.t.Fatalf("waited in vain for %s; the last that was written: %q", what, s.raw[max(0, len(s.raw)-400):])
		}
	}
}

// seen waits for a look of the front.
func (s *seat) seen(what string, yes func(*glass.Glass) bool) {
	s.t.Helper()
	s.until(what, func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		return yes(s.front)
	})
}

// holds fails where the light was broken.
func (s *seat) holds() {
	s.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.wrong != "" {
		s.t.Errorf("under %q: %s", s.light, s.wrong)
		s.wrong = ""
	}
}

func (s *seat) lastNote() string {
	note, _ := os.ReadFile(filepath.Join(s.note, "note"))
	return string(note)
}

// noted waits for the probe's word and returns its process.
func (s *seat) noted(word string) (pid int) {
	s.t.Helper()
	s.until("the note "+word, func() bool { return strings.HasSuffix(s.lastNote(), word) })
	fmt.Sscan(s.lastNote(), &pid)
	return pid
}

// probeAt sits down before the probe.
func probeAt(t *testing.T, w, h int, kind glass.Kind, session string) *seat {
	t.Helper()
	dir := t.TempDir()
	cmd := exec.Command("/proc/self/exe", "first")
	if _, err := os.Stat(cmd.Path); err != nil {
		cmd = exec.Command(os.Args[0], "first")
	}
	cmd.Env = append(os.Environ(), probeAs+"=probe", probeFolder+"="+dir, probeHas+"="+session, "XDG_STATE_HOME="+dir,
		"TERM=xterm-256color", "COLORTERM=", "NO_COLOR=1")
	s := sit(t, w, h, kind, cmd)
	s.note = dir
	s.noted("started first")
	s.seen("lit cells", func(g *glass.Glass) bool { return g.Lit() != "" })
	s.allow(sequence.Safelight)
	return s
}

// darken presses the probe's key for it.
func (s *seat) darken() int {
	s.t.Helper()
	s.command("D")
	pid := s.noted("light dark")
	s.seen("black", func(g *glass.Glass) bool { return g.Lit() == "" })
	s.allow(sequence.Dark)
	return pid
}

// enter presses Enter until the program has gone, and looks at what it left.
func (s *seat) enter() {
	s.t.Helper()
	s.holds()
	s.allow(sequence.White)
	s.until("the end", func() bool {
		s.types("\r")
		select {
		case <-s.ended:
			return true
		case <-time.After(100 * time.Millisecond):
			return false
		}
	})
	s.givenBack()
}

// givenBack looks whether the terminal is as it was.
func (s *seat) givenBack() {
	s.t.Helper()
	s.seen("the shell's screen", func(g *glass.Glass) bool {
		fg, bg := g.Own()
		return !g.Alternate() && g.Shown() && fg == glass.RGB{} && bg == glass.RGB{R: 255, G: 255, B: 255}
	})
	if now := s.settings(); now != s.stty {
		s.t.Errorf("stty -g before:\n%s\nafter:\n%s", s.stty, now)
	}
}

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

// Keys, pastes and resizes, in the dark and under a safelight.
func TestNoKeyLightsTheDark(t *testing.T) {
	t.Parallel()
	for i, size := range sizes {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			s := probeAt(t, size[0], size[1], modern, "")
			r := rand.New(rand.NewPCG(uint64(i), 1))
			n := 60
			if e2e {
				n = 1000
			}
			for _, darken := range []bool{false, true} {
				if darken {
					s.darken()
				}
				for range n {
					s.anything(r)
				}
				s.holds()
			}
			s.command("Q")
			time.Sleep(100 * time.Millisecond)
			s.holds()
			s.enter()
		})
	}
}

// anything does something at random that is no command of the probe's.
func (s *seat) anything(r *rand.Rand) {
	keys := []string{"a", "nnn", " ", "\r", "\x1b", "\x1b[A", "\x1b[5~", "\x1b[6~", "\x1bOP", "\x1b[15~", "\t", "\x7f", "\x03", "\x1a", "\x1c", "é", "日",
		"\x1b[200~LWQP\x1b[201~", "\x1b[200~" + strings.Repeat("paste LW\r\n", 50) + "\x1b[201~", "\x1b]11;rgb:ffff/ffff/ffff\x1b\\"}
	switch r.IntN(12) {
	case 0:
		s.resize(20+r.IntN(200), 6+r.IntN(60))
	case 1:
		time.Sleep(20 * time.Millisecond)
	default:
		s.types(keys[r.IntN(len(keys))])
		time.Sleep(time.Millisecond)
	}
}

// However the screens end in the dark, nothing shines until Enter.
func TestBlackUntilEnter(t *testing.T) {
	t.Parallel()
	ends := map[string]func(s *seat, child int){
		"kill -9":                func(s *seat, child int) { syscall.Kill(child, syscall.SIGKILL) },
		"SIGSEGV":                func(s *seat, child int) { syscall.Kill(child, syscall.SIGSEGV) },
		"SIGQUIT":                func(s *seat, child int) { syscall.Kill(child, syscall.SIGQUIT) },
		"SIGTERM":                func(s *seat, child int) { syscall.Kill(child, syscall.SIGTERM) },
		"SIGTERM for the keeper": func(s *seat, child int) { s.cmd.Process.Signal(syscall.SIGTERM) },
		"a panic elsewhere":      func(s *seat, child int) { s.types("P") },
		"leaving politely":       func(s *seat, child int) { s.types("Q") },
	}
	for name, end := range ends {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			perSize(t, func(t *testing.T, w, h int) {
				s := probeAt(t, w, h, modern, "")
				child := s.darken()
				end(s, child)
				s.until("the child's end", func() bool { return syscall.Kill(child, 0) != nil })
				s.resize(w+7, h+3)
				s.types("x")
				s.types("\x1b[200~\r\n\x1b[201~")
				time.Sleep(typedAhead)
				s.resize(w, h)
				s.enter()
			})
		})
	}
}

// A window that grows while the keeper waits is painted, also where the terminal's
// own background cannot be changed.
func TestWhatGrowsIsPainted(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, glass.Kind{Erases: true}, "")
	child := s.darken()
	syscall.Kill(child, syscall.SIGKILL)
	s.until("the child's end", func() bool { return syscall.Kill(child, 0) != nil })
	time.Sleep(typedAhead)
	s.holds()
	s.allow(sequence.White)
	s.resize(60, 20)
	s.seen("black", func(g *glass.Glass) bool { return g.Lit() == "" })
	s.enter()
}

// Signals that are for the terminal's loss end nothing.
func TestHangUpEndsNothing(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modern, "")
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
	s.seen("lit cells", func(g *glass.Glass) bool { return g.Lit() != "" })
	s.holds()
	s.allow(sequence.White)
	s.types("Q")
	<-s.ended
	s.givenBack()
}

// A session that is cut off is taken up, three times a minute, in the dark.
func TestSessionIsTakenUp(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modern, "2031-05-04T2110-plover")
	child := s.darken()
	for range most {
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
	time.Sleep(2 * typedAhead)
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

// A panic is in the log, not on the screen.
func TestPanicGoesToTheLog(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modern, "")
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

// In white light and without film the shell comes back at once.
func TestNoWaitingInWhiteLight(t *testing.T) {
	t.Parallel()
	s := probeAt(t, 40, 12, modern, "2031-05-04T2110-plover")
	s.allow(sequence.White)
	s.types("W")
	child := s.noted("light white")
	syscall.Kill(child, syscall.SIGKILL)
	<-s.ended
	s.givenBack()
	if status := s.cmd.ProcessState.ExitCode(); status != failed {
		t.Errorf("status %d", status)
	}
}

// The child outlives its keeper, and does its work itself at its end.
func TestChildOutlivesItsKeeper(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	cmd := exec.Command("sh", "-c", `"$0" first; while kill -0 "$(cut -d' ' -f1 "$1")" 2>/dev/null; do sleep 0.02; done`,
		"/proc/self/exe", filepath.Join(dir, "note"))
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Args[3] = exe
	cmd.Env = append(os.Environ(), probeAs+"=probe", probeFolder+"="+dir, "XDG_STATE_HOME="+dir, "TERM=xterm-256color")
	s := sit(t, 40, 12, modern, cmd)
	s.note = dir
	s.noted("started first")
	child := s.darken()
	parent := parentOf(t, child)
	syscall.Kill(parent, syscall.SIGKILL)
	s.until("the keeper's end", func() bool { return syscall.Kill(parent, 0) != nil })
	s.types("Q")
	time.Sleep(2 * typedAhead)
	s.holds()
	if syscall.Kill(child, 0) != nil {
		t.Fatal("the child died with its keeper")
	}
	s.enter()
}

// parentOf asks the kernel.
func parentOf(t *testing.T, pid int) int {
	t.Helper()
	out, err := exec.Command("ps", "-o", "ppid=", "-p", fmt.Sprint(pid)).Output()
	var parent int
	fmt.Sscan(string(out), &parent)
	if err != nil || parent <= 1 {
		t.Fatalf("ps says %q: %v", out, err)
	}
	return parent
}
