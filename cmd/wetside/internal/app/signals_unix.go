//go:build unix

package app

// Signals while a session runs. A terminal that goes away, or a reader that
// closes its pipe, does not end the development of a film.

import (
	"os"
	"os/signal"
	"syscall"
)

func EndSignals() <-chan os.Signal {
	signal.Ignore(syscall.SIGHUP, syscall.SIGPIPE, syscall.SIGTSTP)
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, syscall.SIGINT, syscall.SIGTERM)
	return stop
}

// Hangups tells that the terminal is gone.
func Hangups() <-chan os.Signal {
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGHUP)
	return c
}
