package notebook

// Putting a session away: its files go into a folder beside the others, where no
// list finds them, and come back from there. Nothing is ever deleted.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"example.org/wetside/sequence/journal"
)

// archiveFolder lies in each folder of the store.
const archiveFolder = "put-away"

// Archive takes a session out of the notebook. One that is being carried out is left
// where it is. A session that is not there is fs.ErrNotExist.
func Archive(store journal.Store, id string) error {
	if found, err := store.Read(id); found.Path == "" && err != nil {
		return err
	}
	lock, err := store.Lock(id)
	if err != nil {
		return err
	}
	defer lock.Release()
	return moveFiles(store, id, func(folder string) (string, string) { return folder, filepath.Join(folder, archiveFolder) })
}

// Restore puts a session that was put away back into the notebook.
func Restore(store journal.Store, id string) error {
	return moveFiles(store, id, func(folder string) (string, string) { return filepath.Join(folder, archiveFolder), folder })
}

// ArchivedStore is a store of the sessions that were put away: to list and to open them, not
// to write to.
func ArchivedStore(store journal.Store) journal.Store {
	folders := make([]string, len(store.Folders))
	for i, folder := range store.Folders {
		folders[i] = filepath.Join(folder, archiveFolder)
	}
	store.Folders = folders
	return store
}

// Archived lists the sessions that were put away, newest first.
func Archived(store journal.Store) []string {
	var ids []string
	for _, folder := range store.Folders {
		for _, name := range filesOf(filepath.Join(folder, archiveFolder), "") {
			if id, segment, _ := sessionOf(name); segment > 0 && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	slices.Sort(ids)
	slices.Reverse(ids)
	return ids
}

// moveFiles moves every file of a session; what is there already is never written over.
func moveFiles(store journal.Store, id string, way func(folder string) (from, to string)) error {
	moved := 0
	for _, folder := range store.Folders {
		from, to := way(folder)
		names := filesOf(from, id)
		if len(names) == 0 {
			continue
		}
		if err := os.MkdirAll(to, 0o700); err != nil {
			return err
		}
		for _, name := range names {
			if _, err := os.Lstat(filepath.Join(to, name)); !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("session %q: %s is there already", id, filepath.Join(to, name))
			}
		}
		for _, name := range names {
			if err := os.Rename(filepath.Join(from, name), filepath.Join(to, name)); err != nil {
				return err
			}
			moved++
		}
	}
	if moved == 0 {
		return fmt.Errorf("session %q: %w", id, fs.ErrNotExist)
	}
	return nil
}

// filesOf are the regular files in a folder that belong to a session, or to any where
// id is empty. Its lock stays where it is.
func filesOf(folder, id string) []string {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		got, _, ok := sessionOf(e.Name())
		if ok && e.Type().IsRegular() && (id == "" || got == id) {
			names = append(names, e.Name())
		}
	}
	return names
}
