//go:build unix

package main

// The parent of the screens: it starts them, listens, and takes care of the
// terminal when they have ended.

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"sync"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
	"golang.org/x/term"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/room"
)

// pipeFD is the descriptor on which the child finds the pipe.
const pipeFD = 3

// keep makes this process the keeper of a child that runs first, arguments of this
// program, and, should it be cut off during a session, of one that runs again(id).
// While it waits in the dark that is said, if audible, and two touches of a big key end it. In the child, and where there is
// no terminal to keep, it returns the pipe. In the keeper it returns nil and the exit
// status when all is over.
func keep(first []string, again func(id string) []string, audible bool, big []string) (pipe *keeperPipe, status int) {
	if pipe, ok := adopted(); ok {
		pipe.big = big
		return pipe, 0
	}
	saved, err := term.GetState(int(os.Stdin.Fd()))
	if err != nil || !term.IsTerminal(int(os.Stdout.Fd())) {
		return &keeperPipe{big: big}, 0
	}
	k := &keeper{saved: saved, guard: room.NewGuard(os.Stdout), again: again, audible: audible, big: big}
	k.log, k.logName = openLog()
	defer k.log.Close()
	signal.Ignore(syscall.SIGPIPE, syscall.SIGTSTP, syscall.SIGTTOU)
	k.signals = make(chan os.Signal, 8)
	signal.Notify(k.signals, syscall.SIGHUP, syscall.SIGINT, syscall.SIGQUIT, syscall.SIGTERM)
	go k.forward()
	k.guard.Begin()
	k.told.light = k.guard.Light() // the screens tell what changes
	return nil, k.run(first)
}

// inheritedPipe is the pipe that the keeper left open; false where there is none.
func inheritedPipe() (*os.File, bool) {
	f := os.NewFile(pipeFD, "keeper")
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		return nil, false
	}
	syscall.CloseOnExec(pipeFD)
	return f, true
}

// keeper is the parent.
type keeper struct {
	saved   *term.State
	guard   *room.Guard
	again   func(id string) []string
	audible bool
	big     []string // names of the big key
	log     *os.File
	logName string // "" where there is no log
	signals chan os.Signal
	starts  []time.Time // of children that took a session up

	mu    sync.Mutex
	child *os.Process // nil while there is none
	told  account
}

// run starts the screens, and again where that is called for, until all is over.
func (k *keeper) run(args []string) int {
	for {
		status, ended := k.screens(args)
		t := k.told
		fmt.Fprintf(k.log, "%s keeper: screens ended: %s, light %q, session %q, bye %v\n",
			time.Now().Format(time.RFC3339), ended, t.light, t.session, t.bye)
		if k.takesUp() {
			k.guard.SetLight("") // black while it starts
			args = k.again(t.session)
			continue
		}
		room.Set(sysClass, t.lamps)
		k.restore()
		k.say(ended)
		if !t.bye {
			return failed
		}
		return status
	}
}

// A session is taken up most times within a spell.
const most = 3

var spell = time.Minute

// takesUp tells that the session is to be taken up, in any light: film is wet, and its
// cues go on. Where that was done too often it waits in the dark for a key, which brings
// light instead, or for the spell to be over: what has stood in the way may be gone.
func (k *keeper) takesUp() bool {
	for cutOff := !k.told.bye && k.told.session != ""; ; {
		limit := time.Duration(0)
		if cutOff {
			if k.mayStart(time.Now()) {
				return true
			}
			limit = spell
		}
		if !k.told.needsDark() {
			return false
		}
		hush := k.bewail()
		allowed := stayBlack(k.guard, os.Stdin, limit, k.big)
		hush()
		if allowed {
			return false
		}
	}
}

func (k *keeper) mayStart(now time.Time) bool {
	for len(k.starts) > 0 && now.Sub(k.starts[0]) >= spell {
		k.starts = k.starts[1:]
	}
	if len(k.starts) == most {
		return false
	}
	k.starts = append(k.starts, now)
	return true
}

// screens runs one child to its end: its exit status, and how it ended in words.
func (k *keeper) screens(args []string) (status int, ended string) {
	k.told.bye, k.told.says = false, nil
	r, w, err := os.Pipe()
	if err != nil {
		return failed, err.Error()
	}
	defer r.Close()
	defer w.Close()
	background := "unknown"
	if k.guard.Confirmed() {
		background = "black"
	}
	cmd := exec.Command(itself(), args...)
	cmd.Args[0] = os.Args[0]
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, k.log
	cmd.ExtraFiles = []*os.File{w}
	cmd.Env = append(os.Environ(), kept+"="+string(k.told.light)+" "+background+" "+lampWords(k.told.lamps))
	if err := cmd.Start(); err != nil {
		return failed, err.Error()
	}
	k.use(cmd.Process)
	heard := make(chan struct{})
	go k.listen(r, heard)
	cmd.Wait()
	k.use(nil)
	fmt.Fprintln(w, wordGone) // behind all that the child told, whoever else may hold the pipe
	<-heard
	return cmd.ProcessState.ExitCode(), cmd.ProcessState.String()
}

// itself is this program, also when its file was replaced while it ran.
func itself() string {
	if runtime.GOOS == "linux" {
		return "/proc/self/exe"
	}
	name, err := os.Executable()
	if err != nil {
		return os.Args[0]
	}
	return name
}

// listen takes what the child told, until it is told that this was all.
func (k *keeper) listen(r io.Reader, done chan<- struct{}) {
	defer close(done)
	for lines := bufio.NewScanner(r); lines.Scan() && lines.Text() != wordGone; {
		k.told = k.told.heard(lines.Text())
	}
}

func (k *keeper) use(p *os.Process) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.child = p
}

// forward hands on to the child that it should end, or that the terminal is gone,
// which only the first process of the terminal is told; the other signals are the
// terminal's keys, which the child reads as keys.
func (k *keeper) forward() {
	for sig := range k.signals {
		k.mu.Lock()
		if (sig == syscall.SIGTERM || sig == syscall.SIGHUP) && k.child != nil {
			k.child.Signal(sig)
		}
		k.mu.Unlock()
	}
}

// restore gives the terminal back as it was. What was typed and nobody read does not
// reach the shell.
func (k *keeper) restore() {
	fd := int(os.Stdin.Fd())
	if _, err := term.MakeRaw(fd); err == nil {
		drain(fd)
	}
	k.guard.End()
	term.Restore(fd, k.saved)
}

// comes waits until there is something to read, or the end of it; false where that takes
// longer.
func comes(in *os.File, limit time.Duration) bool {
	for until := time.Now().Add(limit); ; {
		left := max(0, time.Until(until))
		n, err := unix.Poll([]unix.PollFd{{Fd: int32(in.Fd()), Events: unix.POLLIN}}, int((left+time.Millisecond-1)/time.Millisecond))
		if n > 0 || err != nil && err != unix.EINTR {
			return true
		}
		if left == 0 {
			return false
		}
	}
}

// drain reads what there is without waiting.
func drain(fd int) {
	buf := make([]byte, 4096)
	for range 64 {
		n, err := unix.Poll([]unix.PollFd{{Fd: int32(fd), Events: unix.POLLIN}}, 0)
		if err != nil || n == 0 {
			return
		}
		if n, err := unix.Read(fd, buf); n <= 0 || err != nil {
			return
		}
	}
}

// say writes what the person should know now that the shell is back.
func (k *keeper) say(ended string) {
	for _, line := range k.told.says {
		fmt.Fprintf(os.Stderr, "wetside: %s\n", recipes.Clean(line))
	}
	if k.told.bye {
		return
	}
	fmt.Fprintf(os.Stderr, "wetside: the screens ended unexpectedly: %s\n", ended)
	if k.logName != "" {
		fmt.Fprintf(os.Stderr, "hint: %s says more\n", k.logName)
	}
	if k.told.session != "" {
		fmt.Fprintf(os.Stderr, "hint: wetside resume %s takes the session up\n", k.told.session)
	}
}

// logLimit is how large the log may be before it begins anew.
const logLimit = 1 << 20

// openLog opens the log of what the screens write to standard error, beside the
// sessions; where that cannot be, nothing keeps it.
func openLog() (*os.File, string) {
	folder := journal.Folders()[0]
	if filepath.Base(folder) == "sessions" {
		folder = filepath.Dir(folder)
		name := filepath.Join(folder, "screens.log")
		how := os.O_CREATE | os.O_WRONLY | os.O_APPEND
		if info, err := os.Stat(name); err == nil && info.Size() > logLimit {
			how |= os.O_TRUNC
		}
		os.MkdirAll(folder, 0o700)
		if f, err := os.OpenFile(name, how, 0o600); err == nil {
			return f, name
		}
	}
	none, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		return nil, "" // a nil file takes nothing, and says so to nobody
	}
	return none, ""
}

// resized tells of every change of the window's size until stop.
func resized() (changed <-chan os.Signal, stop func()) {
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGWINCH)
	return c, func() {
		signal.Stop(c)
		close(c)
	}
}
