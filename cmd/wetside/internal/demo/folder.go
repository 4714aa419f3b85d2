package demo

// Where a demo lies: a folder of its own, which it holds locked for as long as it lives. Killed, it leaves the folder
// behind, and no lock: the next demo removes it.

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"

	"example.org/wetside/sequence/journal"
)

const (
	namePrefix = "wetside-demo-"
	lockName   = "demo.lock"
	makeTries  = 3 // each but the last taken away by a demo that removes what was left behind
)

// Folder is one that this process holds.
type Folder struct {
	Path    string
	held    *flock.Flock
	restore func()
}

// NewFolder makes one in the temporary folder, and makes wetside's folders those below it, for this process and its
// children.
func NewFolder() (f *Folder, err error) {
	for range makeTries {
		var path string
		if path, err = os.MkdirTemp("", namePrefix); err != nil {
			return nil, err
		}
		f = &Folder{Path: path, held: hold(path), restore: moveInto(path)}
		if _, err = os.Stat(path); err == nil {
			return f, nil
		}
		f.Remove()
	}
	return nil, err
}

// HoldOfParent holds the folder into which the process that started this one has moved. It may outlive that one, with
// a session.
func HoldOfParent() (release func() error) {
	path := filepath.Dir(os.Getenv(ofFolders[0].variable))
	if !strings.HasPrefix(filepath.Base(path), namePrefix) {
		return func() error { return nil }
	}
	return hold(path).Close
}

// hold locks a folder beside others that hold it. A file system that knows no locks holds nothing, and what is left
// there is nobody's to remove.
func hold(path string) *flock.Flock {
	l := flock.New(filepath.Join(path, lockName), flock.SetPermissions(0o600))
	_ = l.RLock()
	return l
}

// Remove removes the folder, and moves wetside's back.
func (f *Folder) Remove() {
	removeAll(f.Path, f.held)
	f.restore()
}

// removeAll removes a folder into which wetside's are moved, with the places for sessions elsewhere, whose names are
// made of it. It gives the lock back between: Windows removes no file that is open.
func removeAll(path string, held *flock.Flock) {
	for _, sessions := range journal.Folders() {
		os.RemoveAll(sessions)
	}
	os.RemoveAll(path)
	held.Close()
	os.RemoveAll(path)
}

// RemoveForgotten removes the folders of demos of ours that nobody holds any more.
func RemoveForgotten() {
	entries, _ := os.ReadDir(os.TempDir())
	for _, e := range entries {
		path := filepath.Join(os.TempDir(), e.Name())
		info, err := e.Info() // of a link, not of what it leads to
		if err != nil || !strings.HasPrefix(e.Name(), namePrefix) || !info.IsDir() || !journal.IsOurs(info) {
			continue
		}
		l := flock.New(filepath.Join(path, lockName), flock.SetFlag(os.O_RDWR)) // makes none
		if free, err := l.TryLock(); err != nil || !free {
			l.Close()
			continue
		}
		restore := moveInto(path)
		removeAll(path, l)
		restore()
	}
}

// ofFolders are the variables that say where wetside's folders lie, and which of a demo's they are.
var ofFolders = []struct{ variable, below string }{{"XDG_CONFIG_HOME", "config"}, {"XDG_STATE_HOME", "state"}, {"XDG_DATA_HOME", "data"}}

// moveInto makes wetside's folders those below another.
func moveInto(folder string) (restore func()) {
	was := map[string]string{}
	for _, of := range ofFolders {
		was[of.variable] = os.Getenv(of.variable)
		os.Setenv(of.variable, filepath.Join(folder, of.below))
	}
	return func() {
		for name, value := range was {
			if value == "" {
				os.Unsetenv(name)
				continue
			}
			os.Setenv(name, value)
		}
	}
}
