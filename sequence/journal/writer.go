package journal

// The writer: one write and one fsync a record, and a new segment when that
// fails.

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.org/wetside/sequence"
)

// Writer appends to one session's journal. It holds every line so far, so that
// a new segment can be begun at any time. It belongs to one goroutine.
type Writer struct {
	store Store
	id    string

	lines []byte // all records so far, as on disk
	chain uint32
	next  int    // seq of the next record
	file  File   // locked; nil: a new segment is needed
	path  string // of the segment in use, or last in use
	n     int    // its number

	locks []File // given up, and open for their locks alone until a new segment has one

	reserved       File // the working file that keeps the id, until there is a first record
	reservedFolder string
	damaged        []segment // that are set aside once the session is kept without them
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
	var latest error // trouble, which matters more
	for _, r := range records {
		err := w.append(r)
		if trouble := (*WriteError)(nil); err != nil && !errors.As(err, &trouble) {
			return err
		}
		latest = cmp.Or(err, latest)
	}
	return latest
}

func (w *Writer) append(r Record) error {
	if r.Seq != w.next {
		return fmt.Errorf("journal: record has seq %d; expected %d", r.Seq, w.next)
	}
	r, err := w.completed(r)
	if err != nil {
		return err
	}
	before := len(w.lines)
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
	err = w.inPlace(before)
	if err == nil {
		err = put(w.file, w.lines[before:])
	}
	return w.renewAfter(err)
}

// renewAfter gives the file in use up where there was trouble with it, and begins another.
func (w *Writer) renewAfter(trouble error) error {
	if trouble == nil {
		return nil
	}
	w.giveUp()
	return w.renew(trouble)
}

// giveUp leaves the segment in use as it is: nothing is asked of the file again but its lock.
func (w *Writer) giveUp() {
	w.locks = append(w.locks, w.file)
	w.file = nil
}

// completed is a record with what the journal itself knows of it.
func (w *Writer) completed(r Record) (Record, error) {
	r.V = Version
	for _, text := range []*string{&r.Event.Text, &r.Event.Source} { // of people and sensors
		*text = strings.ToValidUTF8(*text, "\uFFFD")
	}
	if r.Event.Kind == sequence.SessionBegan || r.Event.Kind == sequence.Resumed {
		r.PID = os.Getpid()
	}
	if r.Seq > 0 {
		return r, nil
	}
	if r.Event.Kind != sequence.SessionBegan || r.Plan == nil {
		return r, fmt.Errorf("journal: first record is %q; expected %q with a plan", r.Event.Kind, sequence.SessionBegan)
	}
	h, err := PlanHash(r.Plan)
	r.Event.ID, r.Hash = w.id, h
	return r, err
}

// inPlace says what has become of the file where it is not what was written, in its place.
func (w *Writer) inPlace(size int) error {
	return w.file.At(filepath.Dir(w.path), filepath.Base(w.path), int64(size))
}

// Check looks whether the file is still in its place with all that was written. Where it was
// moved, deleted, replaced, cut or made a link, everything so far is written anew, which a
// *WriteError tells.
func (w *Writer) Check() error {
	if w.file == nil {
		return nil
	}
	return w.renewAfter(w.inPlace(len(w.lines)))
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

// putAll is put for a file that nothing more is written to.
func putAll(f File, text []byte) error {
	err := put(f, text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// unlock lets go of what was given up.
func (w *Writer) unlock() {
	for _, f := range w.locks {
		f.Close()
	}
	w.locks = nil
}

// Close closes the file, and with it gives the lock back. Every acknowledged record is already
// on disk. An id that was only reserved is free again.
func (w *Writer) Close() error {
	var err error
	w.unlock()
	if w.file != nil {
		err = w.file.Close()
		w.file = nil
	}
	return errors.Join(err, w.dropReserved())
}

// dropReserved takes the working file that keeps the id away.
func (w *Writer) dropReserved() error {
	if w.reserved == nil {
		return nil
	}
	w.store.disk().Remove(w.reservedFolder, segmentName(w.id, 1)+working)
	err := w.reserved.Close()
	w.reserved = nil
	return err
}
