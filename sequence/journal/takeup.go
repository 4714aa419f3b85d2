package journal

// Opening a journal that was cut off, to go on behind its last good record.

import (
	"path/filepath"
	"slices"
)

// reopen makes the file that was read ready to be appended to. Where that
// fails the file is left as it is, and the first Append begins a new segment.
func (w *Writer) reopen(s Recording, held []heldFile) {
	folder, name := filepath.Split(s.Path)
	folder = filepath.Clean(folder)
	_, w.n, _ = segmentOf(name)
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
	err = put(f, torn)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = disk.SyncFolder(folder)
	}
	return err
}
