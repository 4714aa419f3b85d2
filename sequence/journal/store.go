package journal

// The store: journals found in a few folders, and read.

import (
	"cmp"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
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

func (s Store) disk() Disk { return cmp.Or[Disk](s.Disk, System{}) }

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
			got, n, ok := SegmentOf(e.Name())
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
