//go:build unix

package supervisor

// The parent of the screens: it starts them, listens, and takes care of the
// terminal when they have ended.

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"sync"
	"syscall"
	"time"

	"golang.org/x/term"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/light"
)

// Exists tells whether a supervisor keeps the terminal on this system.
const Exists = true

// The descriptors on which the child finds the pipe, and one that ends with the supervisor.
const (
	pipeDescriptor = 3
	lifeDescriptor = 4
)

// Start makes this process the supervisor of a child that runs first, arguments of this
// program, and, should it be cut off during a session, of one that runs again(id).
// While it waits in the dark that is said, if audible, and two touches of a big key end it. In the child, and where there is
// no terminal to keep, it returns the pipe. In the supervisor it returns nil and the exit
// status when all is over.
func Start(first []string, again func(id string) []string, audible bool, big []string) (pipe *Pipe, status int) {
	if IsHandler() {
		HandBack()
		return nil, app.ExitOK
	}
	if pipe, ok := inherit(); ok {
		pipe.bigKeys = big
		pipe.watch()
		return pipe, 0
	}
	saved, err := term.GetState(int(os.Stdin.Fd()))
	if err != nil || !term.IsTerminal(int(os.Stdout.Fd())) {
		return &Pipe{bigKeys: big}, 0
	}
	k := &supervisor{saved: saved, guard: light.NewGuard(os.Stdout), resumeArgs: again, audible: audible, bigKeys: big}
	k.waiters = waiting()
	k.log, k.logName = openLog()
	defer k.log.Close()
	signal.Ignore(syscall.SIGPIPE, syscall.SIGTSTP, syscall.SIGTTOU)
	k.signals = make(chan os.Signal, 8)
	signal.Notify(k.signals, syscall.SIGHUP, syscall.SIGINT, syscall.SIGQUIT, syscall.SIGTERM)
	go k.forwardSignals()
	k.guard.Begin()
	k.state.light = k.guard.Light() // the screens tell what changes
	return nil, k.run(first)
}

// inheritedPipe is the pipe that the supervisor left open; false where there is none.
func inheritedPipe() (*os.File, bool) {
	f := os.NewFile(pipeDescriptor, "supervisor")
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		return nil, false
	}
	syscall.CloseOnExec(pipeDescriptor)
	return f, true
}

// supervisor is the parent.
type supervisor struct {
	saved      *term.State
	guard      *light.Guard
	resumeArgs func(id string) []string
	audible    bool
	bigKeys    []string // names of the big key
	log        *os.File
	logName    string // "" where there is no log
	signals    chan os.Signal
	resumes    []time.Time // of children that took a session up
	takenUp    int         // how often the session had been taken up when the child ended
	waiters    []int       // processes that wait for this one on the terminal: a shell

	mu    sync.Mutex
	child *os.Process // nil while there is none
	state ChildState
}

// run starts the screens, and again where that is called for, until all is over.
func (k *supervisor) run(args []string) int {
	for which := ""; ; which = again {
		status, ended := k.runChild(args, which)
		k.takenUp = resumptions(k.state.session)
		t := k.state
		fmt.Fprintf(k.log, "%s supervisor: screens ended: %s, light %q, session %q, bye %v\n",
			time.Now().Format(time.RFC3339), ended, t.light, t.session, t.saidBye)
		if k.shouldResume() {
			k.guard.SetLight(light.Dark) // black while it starts
			args = k.resumeArgs(t.session)
			continue
		}
		k.restoreTerminal()
		t.putBack()
		k.printFarewell(ended)
		if !t.saidBye {
			return app.ExitFailed
		}
		return status
	}
}

// A session is taken up most times within RestartWindow.
const MaxRestarts = 3

var RestartWindow = time.Minute

// shouldResume tells that the session is to be taken up, in any light: film is wet, and its
// cues go on. Where that was done too often it waits in the dark for a key, which brings
// light instead, or for RestartWindow to be over: what has stood in the way may be gone.
func (k *supervisor) shouldResume() bool {
	for {
		if k.state.session != "" && resumptions(k.state.session) > k.takenUp {
			k.state = k.state.after(msgElsewhere)
			k.state.messages = append(k.state.messages, "another wetside has taken the session up")
		}
		limit := time.Duration(0)
		if !k.state.saidBye && k.state.session != "" {
			if k.mayRestart(time.Now()) {
				return true
			}
			limit = RestartWindow
		}
		if !k.state.needsDark() {
			return false
		}
		stop := k.announce()
		allowed := waitInDark(k.guard, os.Stdin, limit, k.bigKeys)
		stop()
		if allowed {
			return false
		}
	}
}

// resumptions is how often a session has been taken up, by whomever: more than by the supervisor's
// own children, and it goes on elsewhere, or went.
func resumptions(id string) (n int) {
	if id == "" {
		return 0
	}
	kept, err := journal.Default().Read(id)
	if err != nil {
		return 0
	}
	for _, r := range kept.Records {
		if r.Event.Kind == sequence.Resumed {
			n++
		}
	}
	return n
}

func (k *supervisor) mayRestart(now time.Time) bool {
	for len(k.resumes) > 0 && now.Sub(k.resumes[0]) >= RestartWindow {
		k.resumes = k.resumes[1:]
	}
	if len(k.resumes) == MaxRestarts {
		return false
	}
	k.resumes = append(k.resumes, now)
	return true
}

// runChild runs one child to its end: its exit status, and how it ended in words.
func (k *supervisor) runChild(args []string, which string) (status int, ended string) {
	k.state.saidBye, k.state.messages = false, nil
	r, w, err := os.Pipe()
	if err != nil {
		return app.ExitFailed, err.Error()
	}
	defer r.Close()
	defer w.Close()
	life, alive, err := os.Pipe()
	if err != nil {
		return app.ExitFailed, err.Error()
	}
	defer life.Close()
	defer alive.Close()
	cmd := exec.Command(executable(), args...)
	cmd.Args[0] = os.Args[0]
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, k.log
	cmd.ExtraFiles = []*os.File{w, life}
	cmd.Env = append(os.Environ(), k.state.inheritance(k.guard, which), waitersVar+"="+joined(k.waiters))
	cmd.SysProcAttr = inForeground()
	if err := cmd.Start(); err != nil {
		return app.ExitFailed, err.Error()
	}
	k.setChild(cmd.Process)
	heard := make(chan struct{})
	go k.readPipe(r, heard)
	cmd.Wait()
	k.setChild(nil)
	takeForeground()
	fmt.Fprintln(w, msgChildGone) // behind all that the child told, whoever else may hold the pipe
	<-heard
	return cmd.ProcessState.ExitCode(), cmd.ProcessState.String()
}

// executable is this program, also when its file was replaced while it ran.
func executable() string {
	if runtime.GOOS == "linux" {
		return "/proc/self/exe"
	}
	name, err := os.Executable()
	if err != nil {
		return os.Args[0]
	}
	return name
}

// readPipe takes what the child told, until it is told that this was all.
func (k *supervisor) readPipe(r io.Reader, done chan<- struct{}) {
	defer close(done)
	for lines := bufio.NewScanner(r); lines.Scan() && lines.Text() != msgChildGone; {
		k.state = k.state.after(lines.Text())
	}
}

func (k *supervisor) setChild(p *os.Process) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.child = p
}

// forwardSignals hands on to the child that it should end, or that the terminal is gone,
// which only the first process of the terminal is told; the other signals are the
// terminal's keys, which the child reads as keys.
func (k *supervisor) forwardSignals() {
	for sig := range k.signals {
		k.mu.Lock()
		if (sig == syscall.SIGTERM || sig == syscall.SIGHUP) && k.child != nil {
			k.child.Signal(sig)
		}
		k.mu.Unlock()
	}
}

// WatchResize tells of every change of the window's size until stop.
func WatchResize() (changed <-chan os.Signal, stop func()) {
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGWINCH)
	return c, func() {
		signal.Stop(c)
		close(c)
	}
}
