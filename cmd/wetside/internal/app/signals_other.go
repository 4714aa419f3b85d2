//go:build !unix

package app

// Signals while a session runs, where there are few.

import (
	"os"
	"os/signal"
)

func EndSignals() <-chan os.Signal {
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt)
	return stop
}

// Hangups tells that the terminal is gone; here nothing does.
func Hangups() <-chan os.Signal { return nil }
