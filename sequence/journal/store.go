package journal

// The store: finding, listing, beginning and taking up journals in a few
// folders.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
)

// Store is where journals are kept. A session may have several segments, in
// several of the folders; each holds the session from its first record, and
// the one that got furthest is believed, also when it is damaged: another may
// lack what was acknowledged after it was given up.
type Store struct {
	Folders []string // the preferred first
	Disk    Disk     // for writing; nil means System
	Laptop  string   // at the end of each new id, so that two laptops whose folders are joined never clash; "" for nothing
}

// Default is the store of this user.
func Default() Store { return Store{Folders: Folders(), Laptop: laptop()} }

func (s Store) disk() Disk {
	if s.Disk == nil {
		return System{}
	}
	return s.Disk
}

// segment is one file of a session.
type segment struct {
	folder, name string
	id           string
	n            int
}

func (g segment) path() string { return filepath.Join(g.folder, g.name) }

// segments lists the files of one session, or of all where id is empty.
func (s Store) segments(id string) []segment {
	var found []segment
	for _, folder := range s.Folders {
		entries, err := os.ReadDir(folder)
		if err != nil || trusted(folder) != nil {
			continue
		}
		for _, e := range entries {
			got, n, ok := segmentOf(e.Name())
			if ok && e.Type().IsRegular() && (id == "" || got == id) {
				found = append(found, segment{folder, e.Name(), got, n})
			}
		}
	}
	return found
}

func (s Store) taken(id string) bool { return len(s.segments(id)) > 0 }

// FoldersOf are the folders that have a file of a session.
func (s Store) FoldersOf(id string) []string {
	var folders []string
	for _, g := range s.segments(id) {
		folders = append(folders, g.folder)
	}
	return slices.Compact(folders)
}

// Read reads a session: the segment that got furthest. A session that is not
// there is fs.ErrNotExist.
func (s Store) Read(id string) (Recording, error) {
	if err := checkID(id); err != nil {
		return Recording{}, err
	}
	best, err := Recording{}, error(nil)
	for i, g := range s.segments(id) {
		got, gotErr := Read(g.path())
		more := got.claimed - best.claimed
		if i == 0 || more > 0 || more == 0 && err != nil && gotErr == nil {
			best, err = got, gotErr
		}
	}
	if best.Path == "" && err == nil {
		err = fmt.Errorf("journal: session %q: %w", id, fs.ErrNotExist)
	}
	return best, err
}

// Listed is one session in a list.
type Listed struct {
	ID      string
	Path    string // of the segment that was believed
	Status  Status
	First   Record // with the plan
	Last    Record
	Records int
	Newer   bool  // written by a newer wetside, as far as the first and last record tell
	Err     error // why it is damaged

	claimed int
}

// List lists all sessions, newest first. Chains are verified; only the records
// that an Entry holds are read in full.
func (s Store) List() []Listed { return entries(s.segments("")) }

// Since is List without the sessions that by their names began before a moment: years
// of them are not read. One whose name tells none is listed.
func (s Store) Since(t time.Time) []Listed {
	return entries(slices.DeleteFunc(s.segments(""), func(g segment) bool {
		if len(g.id) < len(idPattern) {
			return false
		}
		began, err := time.ParseInLocation(idPattern, g.id[:len(idPattern)], time.Local)
		return err == nil && began.Before(t)
	}))
}

// entries is the sessions that segments belong to, newest first.
func entries(found []segment) []Listed {
	best := map[string]Listed{}
	for _, g := range found {
		e := readListed(g)
		old, seen := best[e.ID]
		more := e.claimed - old.claimed
		if !seen || more > 0 || more == 0 && old.Err != nil && e.Err == nil {
			best[e.ID] = e
		}
	}
	list := make([]Listed, 0, len(best))
	for _, e := range best {
		list = append(list, e)
	}
	slices.SortFunc(list, func(a, b Listed) int {
		return -strings.Compare(a.ID, b.ID)
	})
	return list
}

// readListed reads as much of a segment as an Entry needs.
func readListed(g segment) Listed {
	data, err := load(g.path())
	if err != nil {
		return Listed{ID: g.id, Path: g.path(), Status: Damaged, Err: err}
	}
	return listedFrom(g, data)
}

func listedFrom(g segment, data []byte) Listed {
	e := Listed{ID: g.id, Path: g.path(), Status: Damaged}
	sc, err := scan(data), error(nil)
	e.Records, e.claimed = len(sc.lines), sc.claimed()
	bad := func(line int, reason string) Listed {
		e.Status, e.Err = Damaged, &DamagedError{Path: e.Path, Line: line, Reason: reason}
		return e
	}
	if e.Records == 0 {
		return bad(1, orElse(sc.bad, emptyFile))
	}
	last := e.Records - 1
	if e.First, err = decode(sc.lines[0], 0); err != nil {
		return bad(1, err.Error())
	}
	if e.Last, err = decode(sc.lines[last], last); err != nil {
		return bad(e.Records, err.Error())
	}
	if sc.broken() {
		return bad(e.Records+1, sc.bad)
	}
	e.Newer = e.First.V > Version || e.Last.V > Version
	e.Status = lastStatus(sc.lines)
	return e
}

// lastStatus is statusOf for lines, decoding no more of them than it must.
func lastStatus(lines [][]byte) Status {
	for i := len(lines) - 1; i >= 0; i-- {
		var r struct {
			Event sequence.EventKind `json:"event"`
		}
		if sequence.Unmarshal(lines[i], &r) != nil {
			continue
		}
		if st, ok := statusAfter(r.Event); ok {
			return st
		}
	}
	return Open
}

// IDs are the names of all sessions, newest first by name; no journal is read.
func (s Store) IDs() []string {
	var ids []string
	for _, g := range s.segments("") {
		ids = append(ids, g.id)
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	slices.Reverse(ids)
	return ids
}

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

// TakeUp locks a session that was cut off, reads it, keeps a torn end aside as
// ID.torn, cuts it off the file, and goes on behind the last record. It refuses
// with *HeldError, *DamagedError, ErrNewer or ErrFinished; the Recording is
// returned beside these as far as it could be read.
func (s Store) TakeUp(id string) (*Writer, Recording, error) { return s.takeUp(id, false) }

// GoBehindDamage writes the good records of a damaged session into a new file, so that it can
// be taken up behind the last of them. The damaged file is kept beside it, under another name.
func (s Store) GoBehindDamage(id string) error {
	w, _, err := s.takeUp(id, true)
	if err != nil {
		return err
	}
	if w.file == nil {
		err = w.renew(nil)
	}
	if trouble := (*WriteError)(nil); errors.As(err, &trouble) && trouble.SavedElsewhere() {
		err = nil
	}
	return errors.Join(err, w.Close())
}

func (s Store) takeUp(id string, damagedToo bool) (*Writer, Recording, error) {
	if err := checkID(id); err != nil {
		return nil, Recording{}, err
	}
	if !s.taken(id) {
		return nil, Recording{}, fmt.Errorf("journal: session %q: %w", id, fs.ErrNotExist)
	}
	held, err := s.hold(id)
	if err != nil {
		return nil, Recording{}, err
	}
	session, err := s.Read(id)
	damaged := errors.As(err, new(*DamagedError))
	if damaged && damagedToo && len(session.Records) > 0 {
		session.Status, err = statusOf(session.Records), nil
	}
	switch {
	case err != nil:
	case session.Newer:
		err = ErrNewer
	case session.Status != Open:
		err = ErrFinished
	default:
		err = session.checkAlive()
	}
	if err != nil {
		release(held, nil)
		return nil, session, err
	}
	w := &Writer{store: s, id: id, next: len(session.Records), chain: session.chain,
		lines: slices.Clone(session.good)}
	if damaged {
		w.damaged = s.damagedSegments(id)
		_, w.n, _ = segmentOf(filepath.Base(session.Path))
	} else {
		w.reopen(session, held)
	}
	if w.file != nil {
		release(held, w.file)
		return w, session, nil
	}
	for _, h := range held {
		w.locks = append(w.locks, h.File)
	}
	return w, session, nil
}

// damagedSegments are the files of a session that are damaged.
func (s Store) damagedSegments(id string) []segment {
	return slices.DeleteFunc(s.segments(id), func(g segment) bool {
		_, err := Read(g.path())
		return !errors.As(err, new(*DamagedError))
	})
}
