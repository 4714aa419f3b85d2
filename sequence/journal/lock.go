package journal

// One process at a time carries out a session: a lock on a file of its own,
// which the system takes back when the process dies.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/gofrs/flock"
)

// Lock is held until Release, or until the process ends.
type Lock struct{ held []*flock.Flock }

// HeldError says that another process has the session.
type HeldError struct {
	ID  string
	PID int // 0 where it is not known
}

// Error names the holder.
func (e *HeldError) Error() string {
	who := "another process"
	if e.PID != 0 {
		who = fmt.Sprintf("process %d", e.PID)
	}
	return fmt.Sprintf("journal: session %q is being run by %s; expected nobody", e.ID, who)
}

// Lock takes a session's lock, or says who has it by *HeldError. It locks in
// the first folder that takes a lock file, and in every other where there is
// one already: a process that found its first folder unusable locked there.
// Any other error means that no folder takes a lock file.
func (s Store) Lock(id string) (*Lock, error) {
	l := &Lock{}
	var errs joinedErrors
	for _, folder := range s.Folders {
		path := filepath.Join(folder, id+".lock")
		_, err := os.Stat(path)
		if err != nil && len(l.held) > 0 {
			continue
		}
		fl, err := lockFile(folder, path, id)
		if held := (*HeldError)(nil); errors.As(err, &held) {
			l.Release()
			return nil, err
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		l.held = append(l.held, fl)
	}
	if len(l.held) == 0 {
		return nil, fmt.Errorf("journal: session %q cannot be locked: %w", id, errs)
	}
	return l, nil
}

// HeldBy tells which process carries a session out now: 0 where its number is not known;
// false where none does. It asks for the lock and gives it back at once.
func (s Store) HeldBy(id string) (pid int, held bool) {
	for _, folder := range s.Folders {
		path := filepath.Join(folder, id+".lock")
		if _, err := os.Stat(path); err != nil {
			continue
		}
		fl := flock.New(path, flock.SetPermissions(0o600))
		ok, err := fl.TryRLock()
		switch {
		case err != nil:
			continue
		case !ok:
			return holder(path), true
		}
		fl.Unlock()
	}
	return 0, false
}

func lockFile(folder, path, id string) (*flock.Flock, error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	fl := flock.New(path, flock.SetPermissions(0o600))
	ok, err := fl.TryLock()
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, &HeldError{ID: id, PID: holder(path)}
	}
	// A full disk may not take the number; the lock holds without it.
	os.WriteFile(path, []byte(strconv.Itoa(os.Getpid())+"\n"), 0o600)
	return fl, nil
}

// holder reads the number in a lock file; 0 where there is none.
func holder(path string) int {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0
	}
	pid, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		return 0
	}
	return pid
}

// Release gives the lock back. The file stays: taking it away would let two
// processes hold locks on two files of one name. A nil Lock has nothing to
// give back.
func (l *Lock) Release() error {
	if l == nil {
		return nil
	}
	var errs []error
	for _, fl := range l.held {
		errs = append(errs, fl.Unlock())
	}
	l.held = nil
	return errors.Join(errs...)
}
