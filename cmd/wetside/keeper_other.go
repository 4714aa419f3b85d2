//go:build !unix

package main

// Where there is no keeper the screens run in the program itself.

import "os"

func keep([]string, func(id string) []string, func(account) (hush func())) (pipe *keeperPipe, status int) {
	return &keeperPipe{}, 0
}

func inheritedPipe() (*os.File, bool) { return nil, false }

func resized() (changed <-chan os.Signal, stop func()) {
	c := make(chan os.Signal)
	return c, func() { close(c) }
}
