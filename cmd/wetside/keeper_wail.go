//go:build unix

package main

// Who says in the dark that the screens are gone: a process of its own, for the keeper
// must outlive whatever is wrong with the sound, and the screens may have died of it.

import (
	"io"
	"os"
	"os/exec"
	"time"
)

// wails is the environment variable by which the keeper tells a process that it is to
// bewail the screens, until its input ends.
const wails = "WETSIDE_WAILS"

// The values of wails: what was lost with the screens.
const (
	lostSession = "session"
	lostNothing = "nothing"
	lostToOther = "elsewhere" // the session has gone to another program
)

// isWailing reports whether this process is one.
func isWailing() bool { return os.Getenv(wails) != "" }

// wail is that process's work.
func (p *program) wail(by aloud) error {
	told := account{handed: os.Getenv(wails) == lostToOther}
	if os.Getenv(wails) == lostSession {
		told.session = lostSession
	}
	os.Unsetenv(wails)
	hush := p.bewail(by, told)
	defer hush()
	_, err := io.Copy(io.Discard, p.in)
	return err
}

// bewail starts it, and again should it end, until hush.
func (k *keeper) bewail() (hush func()) {
	if !k.audible {
		return func() {}
	}
	lost := lostNothing
	switch {
	case k.told.handed:
		lost = lostToOther
	case k.told.session != "":
		lost = lostSession
	}
	done := make(chan struct{})
	go func() {
		for {
			ended := k.startWailing(lost, done)
			select {
			case <-ended:
			case <-done:
				return
			}
			select {
			case <-time.After(bewailEvery):
			case <-done:
				return
			}
		}
	}()
	return func() { close(done) }
}

// startWailing starts one process that ends when done is closed, or when the keeper does.
func (k *keeper) startWailing(lost string, done <-chan struct{}) (ended <-chan struct{}) {
	over := make(chan struct{})
	cmd := exec.Command(itself(), k.again("none")...)
	cmd.Args[0] = os.Args[0]
	cmd.Stderr = k.log
	cmd.Env = append(os.Environ(), wails+"="+lost)
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
