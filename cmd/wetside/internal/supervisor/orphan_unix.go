//go:build unix

package supervisor

// The screens without their supervisor. A shell that loses it takes its terminal back: it prints a
// prompt and reads the keys, and the screens, in the background then, can read none. So the
// screens notice, have the shell wait as it did before, and take the terminal again. A
// process of their own lets it go on when they end, however that is.

import (
	"bufio"
	"os"
	"os/exec"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// waitersVar is the environment variable by which the supervisor tells who waits for it.
const waitersVar = "WETSIDE_WAITED_FOR"

// handlerVar is the one by which the screens tell a process that it is to let those go on.
const handlerVar = "WETSIDE_HANDS_BACK"

func joined(pids []int) string {
	words := make([]string, len(pids))
	for i, pid := range pids {
		words[i] = strconv.Itoa(pid)
	}
	return strings.Join(words, ",")
}

func pidsOf(text string) (pids []int) {
	for _, word := range strings.Split(text, ",") {
		if pid, err := strconv.Atoi(word); err == nil && pid > 1 {
			pids = append(pids, pid)
		}
	}
	return pids
}

// waiting are the processes before this one on the terminal, its parent first. tmux lets its
// shells go on as soon as they are stopped: there are none to be stopped.
func waiting() (pids []int) {
	own, err := unix.Getsid(0)
	if err != nil || os.Getenv("TMUX") != "" {
		return nil
	}
	for pid := os.Getppid(); pid > 1 && pid != os.Getpid() && len(pids) < 16; pid = parentOf(pid) {
		if sid, err := unix.Getsid(pid); err != nil || sid != own {
			break
		}
		pids = append(pids, pid)
	}
	return pids
}

// statOf is what the system tells of a process behind its name: its state, its parent; empty where
// it does not tell (proc_pid_stat(5)).
func statOf(pid int) []string {
	text, _ := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/stat")
	return strings.Fields(string(text[strings.LastIndexByte(string(text), ')')+1:]))
}

// parentOf is a process's parent, 0 where the system does not tell.
func parentOf(pid int) (parent int) {
	if fields := statOf(pid); len(fields) > 1 {
		parent, _ = strconv.Atoi(fields[1])
	}
	return parent
}

// signalAll sends a signal to those of the processes that are still on this terminal.
func signalAll(pids []int, sig syscall.Signal) {
	own, _ := unix.Getsid(0)
	for _, pid := range pids {
		if sid, err := unix.Getsid(pid); err == nil && sid == own && pid != os.Getpid() {
			syscall.Kill(pid, sig)
		}
	}
}

// foreground is the process group that the terminal belongs to; false where this process has
// no part in it.
func foreground() (pgrp int, ok bool) {
	pgrp, err := unix.IoctlGetInt(int(os.Stdin.Fd()), unix.TIOCGPGRP)
	return pgrp, err == nil
}

func setForeground(pgrp int) { unix.IoctlSetPointerInt(int(os.Stdin.Fd()), unix.TIOCSPGRP, pgrp) }

// takeForeground makes the terminal this process's again; SIGTTOU is ignored.
func takeForeground() {
	if pgrp, ok := foreground(); ok && pgrp != syscall.Getpgrp() {
		setForeground(syscall.Getpgrp())
	}
}

// inForeground has the screens in a process group of their own, which the terminal belongs to.
func inForeground() *syscall.SysProcAttr {
	takeForeground()
	if _, ok := foreground(); !ok {
		return &syscall.SysProcAttr{Setpgid: true}
	}
	return &syscall.SysProcAttr{Foreground: true, Ctty: int(os.Stdin.Fd())}
}

// watch waits for the supervisor's end.
func (k *Pipe) watch() {
	signal.Ignore(syscall.SIGTTOU, syscall.SIGTTIN)
	waiters := pidsOf(os.Getenv(waitersVar))
	os.Unsetenv(waitersVar)
	syscall.CloseOnExec(lifeDescriptor)
	life := os.NewFile(lifeDescriptor, "life")
	k.alone = make(chan struct{})
	raw, _ := term.GetState(int(os.Stdin.Fd()))
	k.before = raw
	go func() {
		life.Read(make([]byte, 1)) // nothing is ever written
		k.takeOver(waiters)
		close(k.alone)
	}()
}

// Alone is closed when the supervisor has died and the terminal is the screens' own.
func (k *Pipe) Alone() <-chan struct{} { return k.alone }

// takeOver has the shell wait and takes the terminal.
func (k *Pipe) takeOver(waiters []int) {
	own, ok := foreground()
	if !ok {
		return
	}
	hands := startHandler(waiters)
	signalAll(waiters, syscall.SIGSTOP)
	if len(waiters) > 0 {
		settle(waiters)
	}
	if pgrp, ok := foreground(); ok && pgrp != syscall.Getpgrp() && len(waiters) > 0 {
		own = pgrp
		k.before, _ = term.GetState(int(os.Stdin.Fd())) // as the shell wants it
		setForeground(syscall.Getpgrp())
	}
	if hands != nil && own != syscall.Getpgrp() {
		hands.WriteString(strconv.Itoa(own) + "\n")
	}
	k.hands = hands
}

// settleLimit is how long those that are stopped are waited for.
const settleLimit = 200 * time.Millisecond

// settle waits until they are stopped: a call to the system that they are in may still go on.
func settle(pids []int) {
	for until := time.Now().Add(settleLimit); time.Now().Before(until); time.Sleep(time.Millisecond) {
		if !anyRuns(pids) {
			return
		}
	}
}

// anyRuns tells whether one is not stopped yet, as far as the system tells.
func anyRuns(pids []int) bool {
	for _, pid := range pids {
		if fields := statOf(pid); len(fields) > 0 && fields[0] != "T" && fields[0] != "Z" {
			return true
		}
	}
	return false
}

// takeOverLimit is how long a terminal that is being taken over is waited for.
const takeOverLimit = time.Second

// settled waits until the terminal is taken over, where the supervisor has died.
func (k *Pipe) settled() {
	if k.alone == nil {
		return
	}
	select {
	case <-k.alone:
	case <-time.After(takeOverLimit):
	}
}

// giveBack makes the terminal as the shell wants it; the handler lets the shell go on when
// this process has ended.
func (k *Pipe) giveBack() {
	if k.alone != nil && k.before != nil {
		term.Restore(int(os.Stdin.Fd()), k.before)
	}
}

// startHandler starts the process that hands the terminal back; nil where that is not needed
// or cannot be.
func startHandler(waiters []int) *os.File {
	if len(waiters) == 0 {
		return nil
	}
	r, w, err := os.Pipe()
	if err != nil {
		return nil
	}
	defer r.Close()
	cmd := exec.Command(executable(), os.Args[1:]...)
	cmd.Args[0] = os.Args[0]
	cmd.Stdin, cmd.Stdout = r, os.Stdin // the terminal, to give it away
	cmd.Env = append(os.Environ(), handlerVar+"="+joined(waiters))
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if cmd.Start() != nil {
		w.Close()
		return nil
	}
	go cmd.Wait()
	return w
}

// IsHandler reports whether this process is one.
func IsHandler() bool { return os.Getenv(handlerVar) != "" }

// HandBack is its work: when its input ends the screens have ended, and the shell goes on.
func HandBack() {
	signal.Ignore(syscall.SIGTTOU, syscall.SIGHUP, syscall.SIGINT, syscall.SIGPIPE, syscall.SIGTSTP)
	waiters := pidsOf(os.Getenv(handlerVar))
	pgrp := 0
	for lines := bufio.NewScanner(os.Stdin); lines.Scan(); {
		pgrp, _ = strconv.Atoi(lines.Text())
	}
	if pgrp > 0 {
		unix.IoctlSetPointerInt(int(os.Stdout.Fd()), unix.TIOCSPGRP, pgrp)
	}
	signalAll(waiters, syscall.SIGCONT)
}
