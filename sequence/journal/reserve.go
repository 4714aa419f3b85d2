package journal

// An id for a new session, which no other process is given.

import (
	"errors"
	"fmt"
	"io/fs"
	"time"
)

// Create begins a session under an id and writes its first record (Append). fs.ErrExist says
// that the id is taken.
func (s Store) Create(id string, firstRecord Record) (*Writer, error) {
	if err := checkID(id); err != nil {
		return nil, err
	}
	w, err := s.ReserveID(id)
	if err != nil {
		return nil, err
	}
	err = w.Append(firstRecord)
	if err != nil && !errors.As(err, new(*WriteError)) {
		w.Close()
		return nil, err
	}
	return w, err
}

// Reserve gives a new session its id, as NewID does, which from then on no other process is
// given, and the Writer that takes its first record: that needs the event session-began and
// the plan; the event's ID and the plan's hash are filled in.
func (s Store) Reserve(at time.Time, name string) *Writer {
	base := s.baseID(at, name)
	for n := 1; ; n++ {
		if w, err := s.ReserveID(numbered(base, n)); err == nil {
			return w
		}
	}
}

// working ends the name of a file that is not whole yet.
const working = ".new"

// ReserveID keeps an id for this process: a working file, locked, in the first folder that
// takes it. Where none does, the Writer tries again with its first record.
func (s Store) ReserveID(id string) (*Writer, error) {
	w := &Writer{store: s, id: id}
	for _, folder := range s.Folders {
		f, err := s.createLocked(folder, segmentName(id, 1)+working)
		if errors.Is(err, errTaken) {
			return nil, fmt.Errorf("journal: session %q: %w", id, fs.ErrExist)
		}
		if err == nil {
			w.reserved, w.reservedFolder = f, folder
			break
		}
	}
	if s.taken(id) { // asked under the lock, without which nobody gives a file that name
		w.Close()
		return nil, fmt.Errorf("journal: session %q: %w", id, fs.ErrExist)
	}
	return w, nil
}

// createLocked makes a file and locks it. One of that name that nobody has locked was left by
// a process that was killed, and is replaced; one that somebody has is errTaken.
func (s Store) createLocked(folder, name string) (File, error) {
	disk := s.disk()
	for range lockTries {
		f, err := disk.Create(folder, name)
		if errors.Is(err, fs.ErrExist) {
			left, err := s.lockSegment(segment{folder: folder, name: name})
			if err != nil {
				return nil, err
			}
			disk.Remove(folder, name)
			left.Close()
			continue
		}
		if err != nil {
			return nil, err
		}
		if err := f.Lock(); err == nil && f.At(folder, name, 0) == nil || err != nil && !errors.Is(err, errTaken) {
			return f, nil
		}
		f.Close() // another took it for a file that was left
	}
	return nil, errTaken
}
