// Package tui is wetside's screens: choose a recipe, plan, prepare, run, and
// what became of it, all around one time line.
//
// For cmd, which makes a Model with New, gives it a Host and runs it in
// bubbletea. Start with model.go; each screen has a file of its own. Screens
// pull: a tick asks the session how it stands, a key asks something of it, and
// View draws only what Update stored. The package touches no disk, no clock and
// no device and starts no goroutine; time comes from Options.Now and everything
// else from the Host.
package tui
