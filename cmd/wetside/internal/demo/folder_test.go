package demo

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/gofrs/flock"

	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/journal"
)

// What a killed demo left is removed, with its sessions elsewhere. One that lives, in its own process or in a child's,
// keeps its folder; so does what no demo laid out, and what a link leads to.
func TestForgottenFoldersAreRemoved(t *testing.T) {
	hometest.New(t)
	tmp, elsewhere, run := t.TempDir(), t.TempDir(), t.TempDir()
	t.Setenv("TMPDIR", tmp)
	t.Setenv("TMP", tmp) // Windows
	t.Setenv("XDG_RUNTIME_DIR", run)
	made := func() *Folder {
		f, err := NewFolder()
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	living := made()
	living.restore()
	orphaned := made()
	release := HoldOfParent() // as the child of the screens does
	orphaned.held.Close()     // as the system does for a process that is killed
	orphaned.restore()
	killed := made()
	var sessions []string
	for _, folder := range journal.Folders() {
		sessions = append(sessions, folder)
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	killed.held.Close()
	killed.restore()
	notes := filepath.Join(tmp, namePrefix+"notes")
	other, link := filepath.Join(tmp, "other"), filepath.Join(tmp, namePrefix+"link")
	for _, folder := range []string{notes, other} {
		if err := os.Mkdir(folder, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for _, folder := range []string{other, elsewhere} {
		l := flock.New(filepath.Join(folder, lockName))
		if err := l.Lock(); err != nil {
			t.Fatal(err)
		}
		l.Close()
	}
	if err := os.Symlink(elsewhere, link); err != nil {
		t.Log(err)
		link = ""
	}
	RemoveForgotten()
	for _, path := range append(sessions, killed.Path) {
		if _, err := os.Lstat(path); err == nil {
			t.Errorf("%s is left", path)
		}
	}
	for _, path := range []string{living.Path, orphaned.Path, notes, other, link, filepath.Join(elsewhere, lockName)} {
		if _, err := os.Lstat(path); path != "" && err != nil {
			t.Error(err)
		}
	}
	release()
	RemoveForgotten()
	if _, err := os.Lstat(orphaned.Path); err == nil {
		t.Error("the child is gone, and its folder is left")
	}
	living.Remove()
	if left, _ := filepath.Glob(filepath.Join(tmp, "*")); slices.Contains(left, living.Path) {
		t.Error("a demo that ended left its folder")
	}
}
