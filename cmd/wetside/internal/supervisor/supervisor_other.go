//go:build !unix

package supervisor

// Where there is no supervisor the screens run in the program itself.

import (
	"os"
	"sync"
	"time"

	"golang.org/x/term"

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

// sizeEvery is how often the window's size is looked at: nothing tells of it here.
const sizeEvery = 250 * time.Millisecond

// WatchResize tells of every change of the window's size until stop.
func WatchResize() (changed <-chan os.Signal, stop func()) {
	c, quit := make(chan os.Signal, 1), make(chan struct{})
	go func() {
		defer close(c)
		tick := time.NewTicker(sizeEvery)
		defer tick.Stop()
		w, h, _ := term.GetSize(int(os.Stdout.Fd()))
		for {
			select {
			case <-tick.C:
				if nw, nh, err := term.GetSize(int(os.Stdout.Fd())); err == nil && (nw != w || nh != h) {
					w, h = nw, nh
					select {
					case c <- os.Interrupt: // any will do
					default:
					}
				}
			case <-quit:
				return
			}
		}
	}()
	return c, sync.OnceFunc(func() { close(quit) })
}

// Alone never comes where there is no supervisor.
func (k *Pipe) Alone() <-chan struct{} { return nil }

// giveBack and settled are for those who lose one.
func (k *Pipe) giveBack() {}

func (k *Pipe) settled() {}

func IsHandler() bool { return false }

func HandBack() {}
