package journal

// A journal's lock is on the journal itself. Windows keeps others from reading what is
// locked, so the lock is on one byte far behind the end.

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// farBehind is where the locked byte would stand: 2^62.
const farBehind = 1 << 30

// lockFile takes a file for this process alone; errTaken where another has it.
func lockFile(f *os.File) error { return lockByte(f, windows.LOCKFILE_EXCLUSIVE_LOCK) }

// tryFile asks whether lockFile would succeed, and holds up nobody else who asks.
func tryFile(f *os.File) error { return lockByte(f, 0) }

func lockByte(f *os.File, how uint32) error {
	at := windows.Overlapped{OffsetHigh: farBehind}
	err := windows.LockFileEx(windows.Handle(f.Fd()), how|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return errTaken
	}
	return err
}
