//go:build !unix

package supervisor

// Where there is no supervisor the screens run in the program itself.

import (
	"os"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
)

// Exists tells whether a supervisor keeps the terminal on this system.
const Exists = false

func Start(_ []string, _ func(id string) []string, _ bool, big []string) (pipe *Pipe, status int) {
	return &Pipe{bigKeys: big}, 0
}

func IsAnnouncer() bool { return false }

func RunAnnouncer(p *app.Env, _ running.SoundOptions) error { return nil }

func inheritedPipe() (*os.File, bool) { return nil, false }

func WatchResize() (changed <-chan os.Signal, stop func()) {
	c := make(chan os.Signal)
	return c, func() { close(c) }
}

// Alone never comes where there is no supervisor.
func (k *Pipe) Alone() <-chan struct{} { return nil }

// giveBack and settled are for those who lose one.
func (k *Pipe) giveBack() {}

func (k *Pipe) settled() {}

func IsHandler() bool { return false }

func HandBack() {}
