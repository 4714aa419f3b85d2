package journal

// Opening a journal that was cut off, to go on behind its last good record.

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
)

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
		_, w.n, _ = SegmentOf(filepath.Base(session.Path))
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

// reopen makes the file that was read ready to be appended to. Where that
// fails the file is left as it is, and the first Append begins a new segment.
func (w *Writer) reopen(s Recording, held []heldFile) {
	folder, name := filepath.Dir(s.Path), filepath.Base(s.Path)
	_, w.n, _ = SegmentOf(name)
	w.path = s.Path
	if len(s.Torn) > 0 && w.keepAside(folder, s.Torn) != nil {
		return
	}
	i := slices.IndexFunc(held, func(h heldFile) bool { return h.path() == s.Path })
	if i < 0 {
		return
	}
	f := held[i].File
	err := f.At(folder, name, int64(len(s.good)+len(s.Torn))) // what was locked is what was read
	if err == nil && len(s.Torn) > 0 {
		err = f.Truncate(int64(len(s.good)))
	}
	if err == nil {
		err = f.Sync() // what was read may never have been synced
	}
	if err == nil {
		w.file = f
	}
}

// keepAside saves a torn end as ID.torn before it is cut off.
func (w *Writer) keepAside(folder string, torn []byte) error {
	disk, name := w.store.disk(), w.id+".torn"
	disk.Remove(folder, name) // an older one; none is the usual case
	f, err := disk.Create(folder, name)
	if err != nil {
		return err
	}
	if err = putAll(f, torn); err == nil {
		err = disk.SyncFolder(folder)
	}
	return err
}
