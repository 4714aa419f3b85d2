// Package app is what every command and the screens share: the streams, the clock and the
// settings of one run (Env), where the person's files are, recipes found by name, plans made of
// what was typed, pages and JSON written out, exit statuses.
//
// Start with Env. It draws no screen, runs no session and knows no command.
package app

import (
	"io"
	"os"

	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/room"
)

// Env is what the commands share: where they read, write and take the time.
type Env struct {
	In         io.Reader
	Out        io.Writer
	Err        io.Writer
	Clock      clock.Source
	Signals    func() <-chan os.Signal             // what ends a session from outside
	StartAwake func(room.AwakeOptions) *room.Awake // keeps the laptop awake; nil for no laptop

	Settings    settings.Settings // the person's own
	SettingsErr error             // why they could not be read; nil where they could
}

// KeepAwake keeps the laptop awake until what it returns is closed.
func (p *Env) KeepAwake(w room.AwakeOptions) io.Closer {
	if p.StartAwake == nil {
		return io.NopCloser(nil)
	}
	return p.StartAwake(w)
}
