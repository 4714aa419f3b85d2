package journal

// Files that wetside changes in place, or adds lines to, are changed by one process at
// a time: each folder of them has one lock, held from the reading to the writing.

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// folderLockFile is the lock's file. No list, ledger or session can bear its name.
const folderLockFile = ".lock"

// Waiting for whoever is changing a file in the folder: that takes milliseconds, so
// that one who has it for longer has been stopped.
const (
	longestWait = 10 * time.Second
	retryEvery  = 5 * time.Millisecond
)

// LockFolder takes the lock of a folder of lists, which it makes where it is missing, and
// waits up to ten seconds for another who has it. Sessions have locks of their own.
func LockFolder(folder string) (*Lock, error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	fl := flock.New(filepath.Join(folder, folderLockFile), flock.SetPermissions(0o600))
	patience, cancel := context.WithTimeout(context.Background(), longestWait)
	defer cancel()
	_, err := fl.TryLockContext(patience, retryEvery)
	if errors.Is(err, context.DeadlineExceeded) {
		return nil, fmt.Errorf("%s: another process has been changing a file here for over %v; expected it to be done", folder, longestWait)
	}
	if err != nil {
		return nil, err
	}
	return &Lock{held: []io.Closer{fl}}, nil
}
