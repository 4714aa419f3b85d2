package journal

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// A new segment with everything so far: the first of a session, and one more where writing failed or
// the file is not what was written.

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
		if err == nil {
			w.setDamagedAside()
		}
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

// begin makes the next segment in one folder, under a working name until it is whole and
// synced, so that no reader ever meets half of one. It is locked from the start.
func (w *Writer) begin(folder string) error {
	n := w.free(folder)
	name := segmentName(w.id, n)
	f, err := w.working(folder, name)
	if err != nil {
		return err
	}
	if err = put(f, w.lines); err == nil {
		err = w.store.disk().Rename(folder, name+working, name)
	}
	if err != nil {
		f.Close()
		w.store.disk().Remove(folder, name+working) // readers pass it over if this fails too
		return err
	}
	if err := w.store.disk().SyncFolder(folder); err != nil {
		f.Close()
		return err
	}
	w.file, w.path, w.n = f, filepath.Join(folder, name), n
	w.dropReserved()
	w.unlock()
	return nil
}

// working is the new segment's file: the one that keeps the id, or a new one.
func (w *Writer) working(folder, name string) (File, error) {
	f := w.reserved
	if f == nil || folder != w.reservedFolder {
		return w.store.createLocked(folder, name+working)
	}
	w.reserved = nil
	if f.At(folder, name+working, 0) == nil {
		return f, nil
	}
	f.Close()
	return w.store.createLocked(folder, name+working)
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

// setDamagedAside gives damaged segments names that no reader takes for a journal, now that
// the session goes on without what is lost in them.
func (w *Writer) setDamagedAside() {
	for _, g := range w.damaged {
		to := g.name + damagedMark
		for n := 2; isThere(g.folder, to); n++ {
			to = g.name + damagedMark + strconv.Itoa(n)
		}
		w.store.disk().Rename(g.folder, g.name, to)
		w.store.disk().SyncFolder(g.folder)
	}
	w.damaged = nil
}

// damagedMark ends the name of a damaged segment that was set aside.
const damagedMark = ".damaged"

func isThere(folder, name string) bool {
	_, err := os.Lstat(filepath.Join(folder, name))
	return err == nil
}
