//go:build unix

package journal

// A journal's lock is on the journal itself: flock, which belongs to the open file and goes
// with it, and which no removal of another file can take away.

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// lockFile takes a file for this process alone; errTaken where another has it.
func lockFile(f *os.File) error { return flockFile(f, unix.LOCK_EX) }

// tryFile asks whether lockFile would succeed, and holds up nobody else who asks.
func tryFile(f *os.File) error { return flockFile(f, unix.LOCK_SH) }

func flockFile(f *os.File, how int) error {
	for {
		err := unix.Flock(int(f.Fd()), how|unix.LOCK_NB)
		switch {
		case errors.Is(err, unix.EINTR):
		case errors.Is(err, unix.EWOULDBLOCK):
			return errTaken
		default:
			return err
		}
	}
}
