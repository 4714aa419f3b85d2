// Command wetside plans the development of sheet film, carries it out on time,
// and keeps the record.
//
// This package is wiring only: flags, files, exit codes. The recipe is read by
// package recipes, planned and run by sequence and sequence/live, heard through
// tui/cue, shown on paper by tui/page. Each command has a file of its own.
package main

import (
	"os"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/room"
)

func main() {
	p := &app.Env{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Clock: clock.System(), Signals: app.EndSignals, StartAwake: room.KeepAwake}
	os.Exit(cli.Run(p, os.Args[1:]))
}
