//go:build !unix

package main

// Where there is no keeper the screens run in the program itself.

import (
	"os"
	"time"
)

func keep(_ []string, _ func(id string) []string, _ bool, big []string) (pipe *keeperPipe, status int) {
	return &keeperPipe{big: big}, 0
}

// comes is for a keeper; whoever reads here waits for as long as it takes.
func comes(*os.File, time.Duration) bool { return true }

func isWailing() bool { return false }

func (p *program) wail(aloud) error { return nil }

func inheritedPipe() (*os.File, bool) { return nil, false }

func resized() (changed <-chan os.Signal, stop func()) {
	c := make(chan os.Signal)
	return c, func() { close(c) }
}
