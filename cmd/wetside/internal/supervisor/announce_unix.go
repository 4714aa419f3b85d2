//go:build unix

package supervisor

// Who says in the dark that the screens are gone: a process of its own, for the supervisor
// must outlive whatever is wrong with the sound, and the screens may have died of it.

import (
	"io"
	"os"
	"os/exec"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
)

// announceVar is the environment variable by which the supervisor tells a process that it is to
// announce that the screens are gone, until its input ends.
const announceVar = "WETSIDE_ANNOUNCES"

// The values of announceVar: what was lost with the screens.
const (
	lostSession = "session"
	lostNothing = "nothing"
	lostToOther = "elsewhere" // the session has gone to another program
)

// IsAnnouncer reports whether this process is one.
func IsAnnouncer() bool { return os.Getenv(announceVar) != "" }

// RunAnnouncer is that process's work.
func RunAnnouncer(p *app.Env, by running.SoundOptions) error {
	told := ChildState{handedOver: os.Getenv(announceVar) == lostToOther}
	if os.Getenv(announceVar) == lostSession {
		told.session = lostSession
	}
	os.Unsetenv(announceVar)
	stop := AnnounceLost(p, by, told)
	defer stop()
	_, err := io.Copy(io.Discard, p.In)
	return err
}

// announce starts it, and again should it end, until stop.
func (k *supervisor) announce() (stop func()) {
	if !k.audible {
		return func() {}
	}
	lost := lostNothing
	switch {
	case k.state.handedOver:
		lost = lostToOther
	case k.state.session != "":
		lost = lostSession
	}
	done := make(chan struct{})
	go func() {
		for {
			ended := k.startAnnouncer(lost, done)
			select {
			case <-ended:
			case <-done:
				return
			}
			select {
			case <-time.After(AnnounceEvery):
			case <-done:
				return
			}
		}
	}()
	return func() { close(done) }
}

// startAnnouncer starts one process that ends when done is closed, or when the supervisor does.
func (k *supervisor) startAnnouncer(lost string, done <-chan struct{}) (ended <-chan struct{}) {
	over := make(chan struct{})
	cmd := exec.Command(executable(), k.resumeArgs("none")...)
	cmd.Args[0] = os.Args[0]
	cmd.Stderr = k.log
	cmd.Env = append(os.Environ(), announceVar+"="+lost)
	in, err := cmd.StdinPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		close(over)
		return over
	}
	go func() {
		cmd.Wait()
		close(over)
	}()
	go func() {
		select {
		case <-done:
		case <-over:
		}
		in.Close()
	}()
	return over
}
