package journal

// The writer: one write and one fsync a record, and a new segment when that
// fails.

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"example.org/wetside/sequence"
)

// Writer appends to one session's journal. It holds every line so far, so that
// a new segment can be begun at any time. It belongs to one goroutine.
type Writer struct {
	store Store
	id    string
	lock  *Lock

	lines []byte // all records so far, as on disk
	chain uint32
	next  int    // seq of the next record
	file  File   // nil: a new segment is needed
	path  string // of the segment in use, or last in use
	n     int    // its number
}

// WriteError says that a segment was given up. The session goes on.
type WriteError struct {
	Err  error  // what went wrong
	Path string // of the segment that took everything instead; "" where none did
}

// Error says where the session is kept now, then what went wrong: the first is what
// a narrow screen has room for.
func (e *WriteError) Error() string {
	if e.Path == "" {
		return fmt.Sprintf("journal: kept in memory alone: %v", e.Err)
	}
	return fmt.Sprintf("journal: now kept in %s: %v", e.Path, e.Err)
}

// Unwrap is what went wrong.
func (e *WriteError) Unwrap() error { return e.Err }

// SavedElsewhere reports whether everything is on disk nevertheless.
func (e *WriteError) SavedElsewhere() bool { return e.Path != "" }

// ID is the session's id.
func (w *Writer) ID() string { return w.id }

// Path is the file in use; "" while nothing has taken the session yet.
func (w *Writer) Path() string { return w.path }

// Next is the seq of the record that Append expects.
func (w *Writer) Next() int { return w.next }

// Append writes records, each with one write and one fsync; V is filled in. A
// record is acknowledged when Append returns nil or a *WriteError that is
// Kept. After a *WriteError that is not, the records wait in memory and go to
// disk with the next Append that succeeds; they are not to be given again. Any
// other error names a record that was refused.
func (w *Writer) Append(records ...Record) error {
	var first error
	for _, r := range records {
		err := w.append(r)
		if trouble := (*WriteError)(nil); err != nil && !errors.As(err, &trouble) {
			return err
		}
		first = latestTrouble(first, err)
	}
	return first
}

// latestTrouble keeps the trouble that matters more: the latest.
func latestTrouble(old, latest error) error {
	if latest == nil {
		return old
	}
	return latest
}

func (w *Writer) append(r Record) error {
	if r.Seq != w.next {
		return fmt.Errorf("journal: record has seq %d; expected %d", r.Seq, w.next)
	}
	r.V, r.Event = Version, validText(r.Event)
	from := len(w.lines)
	lines, chain, err := encode(w.lines, r, w.chain)
	if err != nil && r.Seq > 0 {
		stand := Record{V: Version, Seq: r.Seq, Clock: r.Clock,
			Event: sequence.Event{At: r.Event.At, Kind: sequence.FollowerFailed, Text: err.Error()}}
		lines, chain, err = encode(w.lines, stand, w.chain)
	}
	if err != nil {
		return err
	}
	w.lines, w.chain, w.next = lines, chain, w.next+1
	if w.file == nil {
		return w.renew(nil)
	}
	if err := put(w.file, w.lines[from:]); err != nil {
		w.giveUp()
		return w.renew(err)
	}
	return nil
}

// put is the one write and the one fsync.
func put(f File, line []byte) error {
	n, err := f.Write(line)
	if err == nil && n < len(line) {
		err = fmt.Errorf("wrote %d of %d bytes", n, len(line))
	}
	if err != nil {
		return err
	}
	return f.Sync()
}

// giveUp leaves the segment in use as it is.
func (w *Writer) giveUp() {
	w.file.Close() // whatever it says, the file is not used again
	w.file = nil
}

// renew begins a new segment with everything so far, in the first folder that
// takes it. That is no trouble where nothing failed on the way: for the first
// segment, and where writing works again.
func (w *Writer) renew(cause error) error {
	var errs joinedErrors
	if cause != nil {
		errs = append(errs, cause)
	}
	for _, folder := range w.store.Folders {
		err := w.begin(folder)
		if err == nil && len(errs) == 0 {
			return nil
		}
		if err == nil {
			return &WriteError{Err: errs, Path: w.path}
		}
		errs = append(errs, err)
	}
	return &WriteError{Err: errs}
}

// joinedErrors errors, told on one line.
type joinedErrors []error

func (s joinedErrors) Error() string {
	var told []string
	for _, err := range s {
		told = append(told, err.Error())
	}
	return strings.Join(told, "; ")
}

func (s joinedErrors) Unwrap() []error { return s }

// begin makes the next segment in one folder, under a working name until it
// is whole and synced, so that no reader ever meets half of one.
func (w *Writer) begin(folder string) error {
	disk, n := w.store.disk(), w.free(folder)
	name := segmentName(w.id, n)
	working := name + ".new"
	err := w.fill(folder, working)
	if err == nil {
		err = disk.Rename(folder, working, name)
	}
	if err != nil {
		disk.Remove(folder, working) // readers pass it over if this fails too
		return err
	}
	if err := disk.SyncFolder(folder); err != nil {
		return err
	}
	f, err := disk.Open(folder, name)
	if err != nil {
		return err
	}
	w.file, w.path, w.n = f, filepath.Join(folder, name), n
	return nil
}

// fill writes everything so far into a new file.
func (w *Writer) fill(folder, name string) error {
	disk := w.store.disk()
	f, err := disk.Create(folder, name)
	if errors.Is(err, fs.ErrExist) { // left by a process that was killed here
		disk.Remove(folder, name)
		f, err = disk.Create(folder, name)
	}
	if err != nil {
		return err
	}
	err = put(f, w.lines)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// free is the number of the next segment: behind every one in the folder and
// behind the one last used.
func (w *Writer) free(folder string) int {
	n := w.n + 1
	for _, g := range w.store.segments(w.id) {
		if g.folder == folder {
			n = max(n, g.n+1)
		}
	}
	return n
}

// Close closes the file and gives the lock back. Every acknowledged record is
// already on disk.
func (w *Writer) Close() error {
	var err error
	if w.file != nil {
		err = w.file.Close()
		w.file = nil
	}
	return errors.Join(err, w.lock.Release())
}
