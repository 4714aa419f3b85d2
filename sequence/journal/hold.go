package journal

// Files that wetside changes in place, or adds lines to, are changed by one process at
// a time: each folder of them has one lock, held from the reading to the writing.

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// holdFile is the lock's file. No list, ledger or session can bear its name.
const holdFile = ".lock"

// Waiting for whoever is changing a file in the folder: that takes milliseconds, so
// that one who has it for longer has been stopped.
const (
	longestHold = 10 * time.Second
	holdAgain   = 5 * time.Millisecond
)

// Hold takes the lock of a folder of lists, which it makes where it is missing, and
// waits up to ten seconds for another who has it. Sessions have locks of their own.
func Hold(folder string) (*Lock, error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	fl := flock.New(filepath.Join(folder, holdFile), flock.SetPermissions(0o600))
	patience, cancel := context.WithTimeout(context.Background(), longestHold)
	defer cancel()
	_, err := fl.TryLockContext(patience, holdAgain)
	if errors.Is(err, context.DeadlineExceeded) {
		return nil, fmt.Errorf("%s: another process has been changing a file here for over %v; expected it to be done", folder, longestHold)
	}
	if err != nil {
		return nil, err
	}
	return &Lock{held: []*flock.Flock{fl}}, nil
}
