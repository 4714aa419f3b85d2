//go:build !unix

package main

// Signals while a session runs, where there are few.

import (
	"os"
	"os/signal"
)

func signals() <-chan os.Signal {
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt)
	return stop
}

// hangups tells that the terminal is gone; here nothing does.
func hangups() <-chan os.Signal { return nil }
