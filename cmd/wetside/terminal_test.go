//go:build unix

package main

// The checker: a program on a pty before a terminal with white defaults, every cell
// looked at after every read.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue/sink/pulsetest"
	"example.org/wetside/tui/light/vtest"
)

// e2e makes missing parts a failure, and tests longer.
var e2e = os.Getenv("WETSIDE_E2E") == "1"

// full makes the faults last as long as they are meant to, and holds figures to their aims.
var full = os.Getenv("WETSIDE_FULL") == "1"

// testLimit is how long anything is waited for: no machine is so busy.
const testLimit = 2 * time.Minute

// terminal is somebody before a terminal on which a program runs.
type terminal struct {
	t           testing.TB
	cmd         *exec.Cmd
	master, tty *os.File
	stty        string // before the program
	ended       chan struct{}
	done        chan struct{} // the reader has seen all

	mu    sync.Mutex
	front *vtest.Terminal
	light sequence.Light // what is allowed from now on
	most  uint8          // red that is allowed under a safelight; 0 for any
	dawn  bool           // light is about to come: its first look must be red, then all is allowed
	wrong string         // the first cell that should not have been lit
	raw   []byte         // all that was written
	note  string
}

var modernTerminal = vtest.Behaviour{ErasesWithPen: true, SetsColours: true, Answers: true}

// startAt starts a program on a terminal of that size.
func startAt(t testing.TB, w, h int, kind vtest.Behaviour, cmd *exec.Cmd) *terminal {
	t.Helper()
	master, tty, err := pty.Open()
	if err != nil {
		skipOrFail(t, "no terminal: "+err.Error())
	}
	s := &terminal{t: t, cmd: cmd, master: master, tty: tty, front: vtest.New(w, h, kind), light: sequence.White,
		ended: make(chan struct{}), done: make(chan struct{})}
	pty.Setsize(master, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)})
	s.stty = s.settings()
	cmd.Stdin, cmd.Stdout, cmd.Stderr = tty, tty, tty
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	start := cmd.Start
	if slices.ContainsFunc(cmd.Env, func(pair string) bool { return strings.HasPrefix(pair, "PULSE_SERVER=") }) {
		start = func() error { return pulsetest.Ahead(cmd.Start) }
	}
	if err := start(); err != nil {
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
func (s *terminal) leave() {
	for range 3 { // the supervisor, and what it had just started
		for _, pid := range familyOf(s.cmd.Process.Pid) {
			syscall.Kill(pid, syscall.SIGKILL)
		}
	}
	<-s.ended
	s.tty.Close()
	s.master.Close()
	<-s.done
}

// watch reads and looks, until the terminal is closed.
func (s *terminal) watch() {
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

func (s *terminal) look(p []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.raw = append(s.raw, p...)
	s.front.Write(p)
	s.check(fmt.Sprintf("after %.300q", p))
	if s.dawn && s.front.LitCell() != "" {
		s.dawn, s.light = false, sequence.White
	}
	if len(s.front.Reply) > 0 {
		s.master.Write(s.front.Reply)
		s.front.Reply = nil
	}
}

// check notes the first cell that the light forbids.
func (s *terminal) check(when string) {
	bad := ""
	switch s.light {
	case sequence.Dark:
		bad = s.front.LitCell()
	case sequence.Safelight:
		if bad = s.front.NonRedCell(); bad == "" && s.most > 0 {
			bad = s.front.BrighterThan(s.most)
		}
	}
	if bad != "" && s.wrong == "" {
		s.wrong = bad + " " + when
	}
}

// from now on nothing but that light is allowed.
func (s *terminal) allow(l sequence.Light) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.light = l
	s.check("at once")
}

// lights allows the light that comes back after the dark: red first.
func (s *terminal) lights() {
	s.allow(sequence.Safelight)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.dawn = true
}

func (s *terminal) types(keys string) { s.master.WriteString(keys) }

// command types one of the probe's keys, apart from an escape typed before it and
// from a paste whose end was lost on such an escape.
func (s *terminal) command(key string) {
	s.types("x\x1b[201~")
	time.Sleep(50 * time.Millisecond)
	s.types(key)
}

// resize makes the window another size, the terminal first.
func (s *terminal) resize(w, h int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.front.Resize(w, h)
	s.check("after a resize")
	pty.Setsize(s.master, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)})
}

// settings are all that stty -a tells, but the size of the window.
func (s *terminal) settings() string {
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
func (s *terminal) until(what string, yes func() bool) {
	s.t.Helper()
	for end := time.Now().Add(testLimit); !yes(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			s.mu.Lock()
			defer s.mu.Unlock()
			log, _ := os.ReadFile(filepath.Join(s.note, "wetside", "screens.log"))
			s.t.Fatalf("waited in vain for %s; the last that was written: %q; the log: %.2000s", what, s.raw[max(0, len(s.raw)-400):], log)
		}
	}
}

// seen waits for a look of the front.
func (s *terminal) seen(what string, yes func(*vtest.Terminal) bool) {
	s.t.Helper()
	s.until(what, func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		return yes(s.front)
	})
}

// holds fails where the light was broken.
func (s *terminal) holds() {
	s.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.wrong != "" {
		s.t.Errorf("under %q: %s", s.light, s.wrong)
		s.wrong = ""
	}
}

func (s *terminal) lastNote() string {
	note, _ := os.ReadFile(filepath.Join(s.note, "note"))
	return string(note)
}

// noted waits for the probe's word and returns its process.
func (s *terminal) noted(word string) (pid int) {
	s.t.Helper()
	s.until("the note "+word, func() bool { return strings.HasSuffix(s.lastNote(), word) })
	fmt.Sscan(s.lastNote(), &pid)
	return pid
}

// emulator is a kind of terminal with what it says of itself in the environment.
type emulator struct {
	kind vtest.Behaviour
	env  []string
}

// emulators are five kinds: what they do with colours, and with questions about them.
var emulators = map[string]emulator{
	"256 colours":  {modernTerminal, []string{"TERM=xterm-256color", "COLORTERM=", "NO_COLOR=1"}},
	"true colours": {modernTerminal, []string{"TERM=xterm-direct", "COLORTERM=truecolor"}},
	"tmux":         {vtest.Behaviour{ErasesWithPen: true, SetsColours: true, Mute: true}, []string{"TERM=screen", "COLORTERM=", "TMUX=/tmp/none,1,0"}},
	"16 colours":   {vtest.Behaviour{}, []string{"TERM=xterm", "COLORTERM="}},
	"console":      {vtest.Behaviour{ErasesWithPen: true, Console: true, Mute: true}, []string{"TERM=linux", "COLORTERM="}},
}

// probeAt sits down before the probe.
func probeAt(t *testing.T, w, h int, kind vtest.Behaviour, session string) *terminal {
	t.Helper()
	return probeBefore(t, w, h, emulator{kind, emulators["256 colours"].env}, session)
}

func probeBefore(t *testing.T, w, h int, f emulator, session string) *terminal {
	t.Helper()
	dir := t.TempDir()
	cmd := exec.Command("/proc/self/exe", "first")
	if _, err := os.Stat(cmd.Path); err != nil {
		cmd = exec.Command(os.Args[0], "first")
	}
	cmd.Env = append(os.Environ(), probeAs+"=probe", probeFolder+"="+dir, probeHas+"="+session, "XDG_STATE_HOME="+dir, "XDG_DATA_HOME="+dir)
	cmd.Env = append(cmd.Env, f.env...)
	s := startAt(t, w, h, f.kind, cmd)
	s.note = dir
	s.noted("started first")
	// A terminal of its own white is lit before anything is painted.
	s.seen("red cells and no others", func(g *vtest.Terminal) bool { return g.LitCell() != "" && g.NonRedCell() == "" })
	s.allow(sequence.Safelight)
	return s
}

// darken presses the probe's key for it.
func (s *terminal) darken() int {
	s.t.Helper()
	s.command("D")
	pid := s.noted("light dark")
	s.seen("black", func(g *vtest.Terminal) bool { return g.LitCell() == "" })
	s.allow(sequence.Dark)
	return pid
}

// enter touches Enter twice, again and again, until the program has gone, and looks at what
// it left.
func (s *terminal) enter() {
	s.t.Helper()
	s.holds()
	s.allow(sequence.White)
	s.until("the end", func() bool {
		s.types("\r")
		time.Sleep(touchGap)
		s.types("\r")
		select {
		case <-s.ended:
			return true
		case <-time.After(2 * touchGap):
			return false
		}
	})
	s.givenBack()
}

// givenBack looks whether the terminal is as it was.
func (s *terminal) givenBack() {
	s.t.Helper()
	s.seen("the shell's screen", func(g *vtest.Terminal) bool {
		fg, bg := g.DefaultColours()
		return !g.Alternate() && g.CursorShown() && fg == vtest.RGB{} && bg == vtest.RGB{R: 255, G: 255, B: 255}
	})
	if now := s.settings(); now != s.stty {
		s.t.Errorf("stty -g before:\n%s\nafter:\n%s", s.stty, now)
	}
}
