//go:build race

package cue

// Under the race detector the hour in a file is six minutes.
func init() { session = session / 10 }
