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
