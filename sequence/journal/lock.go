package journal

// One process at a time carries out a session: the lock is on each of the session's files
// (filelock_unix.go), from before the file has its name until its writer closes it or dies.
// No file beside it can be taken away to free it. A file that was put in the place of a
// locked one has no lock: who takes it up also asks whether the process that wrote the
// record still lives (alive_linux.go).

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/gofrs/flock"

	"example.org/wetside/sequence"
)

// errTaken says that another open file has the lock.
var errTaken = errors.New("locked by another process")

// Lock is of a folder, or of a session's files: held until Release, or until the process ends.
type Lock struct{ held []io.Closer }

// Release gives the lock back. The files stay. A nil Lock has nothing to give back.
func (l *Lock) Release() error {
	if l == nil {
		return nil
	}
	var errs []error
	for _, f := range l.held {
		errs = append(errs, f.Close())
	}
	l.held = nil
	return errors.Join(errs...)
}

// Lock takes every file of a session, or says who has one by *HeldError.
func (s Store) Lock(id string) (*Lock, error) {
	held, err := s.hold(id)
	if err != nil {
		return nil, err
	}
	l := &Lock{}
	for _, h := range held {
		l.held = append(l.held, h)
	}
	return l, nil
}

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

// HeldBy tells which process carries a session out now: 0 where its number is not known;
// false where none does. It asks for the lock and gives it back at once.
func (s Store) HeldBy(id string) (pid int, held bool) {
	for _, g := range s.segments(id) {
		f, err := os.OpenInRoot(g.folder, g.name)
		if err != nil {
			continue
		}
		err = tryFile(f)
		f.Close()
		if errors.Is(err, errTaken) {
			return s.writerOf(id), true
		}
	}
	return 0, s.heldByOlder(id)
}

// heldByOlder asks for the lock of a wetside that kept it in a file beside the journal. One
// in a folder where others may write is theirs, perhaps, and holds nothing.
func (s Store) heldByOlder(id string) bool {
	for _, folder := range s.Folders {
		ours, err := OpenOurs(folder)
		if err != nil {
			continue
		}
		_, err = ours.Stat(id + ".lock")
		ours.Close()
		if err != nil {
			continue
		}
		fl := flock.New(filepath.Join(folder, id+".lock"), flock.SetFlag(os.O_RDONLY))
		ok, err := fl.TryRLock()
		fl.Close()
		if err == nil && !ok {
			return true
		}
	}
	return false
}

// writerOf is the process that last began or took up a session; 0 where it is not known.
func (s Store) writerOf(id string) int {
	r, _ := s.Read(id)
	_, pid := r.lastTaken()
	return pid
}

// lastTaken is the record by which a process last took the session on, and its number; 0 where
// none says so, or that process has let go of it.
func (s Recording) lastTaken() (Record, int) {
	for _, r := range slices.Backward(s.Records) {
		switch {
		case r.Event.Kind == sequence.HandedOver:
			return r, 0
		case r.PID != 0:
			return r, r.PID
		}
	}
	return Record{}, 0
}

// The pace at which a lock is tried again: whoever only asks for it has it for an instant.
const (
	lockTries = 4
	lockPause = 3 * time.Millisecond
)

// hold locks every file of a session. A *HeldError says that another process has one of
// them. A file system that knows no locks is no reason to refuse.
func (s Store) hold(id string) (held []heldFile, err error) {
	for _, g := range s.segments(id) {
		h := heldFile{segment: g}
		for try := 0; ; try++ {
			h.File, err = s.lockSegment(g)
			if !errors.Is(err, errTaken) {
				break
			}
			if try == lockTries {
				release(held, nil)
				return nil, &HeldError{ID: id, PID: s.writerOf(id)}
			}
			time.Sleep(lockPause)
		}
		if err == nil {
			held = append(held, h)
		}
	}
	if s.heldByOlder(id) {
		release(held, nil)
		return nil, &HeldError{ID: id}
	}
	return held, nil
}

// heldFile is a segment that is open and locked.
type heldFile struct {
	segment
	File
}

// release closes all files but one.
func release(held []heldFile, but File) {
	for _, h := range held {
		if h.File != but {
			h.Close()
		}
	}
}

// lockSegment opens a segment and locks it; where it cannot be written, for reading.
func (s Store) lockSegment(g segment) (File, error) {
	f, err := s.disk().Open(g.folder, g.name)
	if err != nil {
		read, readErr := os.OpenInRoot(g.folder, g.name)
		if readErr != nil {
			return nil, err
		}
		f = systemFile{read}
	}
	if err := f.Lock(); errors.Is(err, errTaken) {
		f.Close()
		return nil, err
	}
	return f, nil
}

// checkAlive refuses a session whose last writer lives, whatever the locks say.
func (s Recording) checkAlive() error {
	if r, pid := s.lastTaken(); stillRuns(pid, r.Clock) {
		return &HeldError{ID: s.ID, PID: pid}
	}
	return nil
}
