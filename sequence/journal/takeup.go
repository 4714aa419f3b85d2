package journal

// Opening a journal that was cut off, to go on behind its last good record.

import "path/filepath"

// reopen makes the file that was read ready to be appended to. Where that
// fails the file is left as it is, and the first Append begins a new segment.
func (w *Writer) reopen(s Recording) {
	folder, name := filepath.Split(s.Path)
	folder = filepath.Clean(folder)
	_, w.n, _ = segmentOf(name)
	w.path = s.Path
	if len(s.Torn) > 0 && w.keepAside(folder, s.Torn) != nil {
		return
	}
	f, err := w.store.disk().Open(folder, name)
	if err != nil {
		return
	}
	if len(s.Torn) > 0 {
		err = f.Truncate(int64(len(s.good)))
	}
	if err == nil {
		err = f.Sync() // what was read may never have been synced
	}
	if err != nil {
		f.Close()
		return
	}
	w.file = f
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
