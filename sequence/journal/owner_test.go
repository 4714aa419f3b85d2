//go:build unix

package journal

// Who may read a journal, and which folders are trusted.

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/gofrs/flock"
)

func TestFilesAreTheOwnersAlone(t *testing.T) {
	old := syscall.Umask(0)
	defer syscall.Umask(old)
	s := newStore(t, 1)
	w := write(t, s, 2)
	if err := os.WriteFile(w.Path(), append(text(t, 2), "{torn"...), 0o600); err != nil {
		t.Fatal(err)
	}
	w.Close()
	w2, _, err := s.TakeUp(testID)
	if err != nil {
		t.Fatal(err)
	}
	defer w2.Close()
	for _, name := range []string{".jsonl", ".torn"} {
		perm(t, filepath.Join(s.Folders[0], testID+name), 0o600)
	}
	perm(t, s.Folders[0], 0o700)
	perm(t, filepath.Dir(s.Folders[0]), 0o700)
}

func perm(t *testing.T, path string, want fs.FileMode) {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Error(err)
		return
	}
	if got := info.Mode().Perm(); got != want {
		t.Errorf("%s has mode %o; expected %o", filepath.Base(path), got, want)
	}
}

// Below a folder where everybody may write, only a folder of our own is used.
func TestSharedTemporaryFolder(t *testing.T) {
	shared := t.TempDir()
	if err := os.Chmod(shared, 0o777|fs.ModeSticky); err != nil {
		t.Fatal(err)
	}
	planted := filepath.Join(shared, "planted")
	if err := os.Mkdir(planted, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(t.TempDir(), filepath.Join(shared, "link")); err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{planted, filepath.Join(shared, "link")} {
		if _, err := (System{}).Create(folder, "x.jsonl"); err == nil {
			t.Errorf("%s was used", folder)
		}
		if os.WriteFile(filepath.Join(folder, "planted.jsonl"), text(t, 2), 0o600); len((Store{Folders: []string{folder}}).List()) != 0 {
			t.Errorf("%s was listed", folder)
		}
	}
	if f, err := (System{}).Create(filepath.Join(shared, "ours"), "x.jsonl"); err != nil {
		t.Error(err)
	} else {
		f.Close()
	}
}

// A folder is ours that we own, that nobody else may write in, and that nobody could have laid
// out for us; in a shared one others may not even look.
func TestOpenOurs(t *testing.T) {
	own, shared := t.TempDir(), t.TempDir()
	if err := os.Chmod(shared, 0o777); err != nil { // without the sticky bit too
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		above string
		mode  fs.FileMode
		owner int
		good  bool
	}{
		"ours":                       {own, 0o700, os.Geteuid(), true},
		"ours, to be read":           {own, 0o755, os.Geteuid(), true},
		"the group may write":        {own, 0o770, os.Geteuid(), false},
		"all may write":              {own, 0o707, os.Geteuid(), false},
		"another's":                  {own, 0o700, 65534, false},
		"shared, ours":               {shared, 0o700, os.Geteuid(), true},
		"shared, ours, to be read":   {shared, 0o755, os.Geteuid(), false},
		"shared, another's":          {shared, 0o700, 65534, false},
		"shared, all may write":      {shared, 0o777, os.Geteuid(), false},
		"shared, another's, to read": {shared, 0o755, 65534, false},
		"shared, others may enter":   {shared, 0o701, os.Geteuid(), false},
		"shared, the group may":      {shared, 0o710, os.Geteuid(), false},
	} {
		folder := filepath.Join(c.above, strings.ReplaceAll(name, " ", "-"))
		if err := os.Mkdir(folder, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(folder, c.mode); err != nil {
			t.Fatal(err)
		}
		if err := os.Chown(folder, c.owner, -1); err != nil {
			t.Logf("%s: %v", name, err) // only root gives files away
			continue
		}
		root, err := OpenOurs(folder)
		if err == nil {
			root.Close()
		}
		if (err == nil) != c.good {
			t.Errorf("%s: %v; expected it opened %v", name, err, c.good)
		}
		if err := trusted(folder); (err == nil) != (c.good || c.above == own) {
			t.Errorf("%s: trusted: %v", name, err)
		}
	}
	link := filepath.Join(shared, "link")
	if err := os.Symlink(own, link); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenOurs(link); err == nil {
		t.Error("a link in a shared folder was followed")
	}
}

// The lock file of an older wetside counts in a folder of ours alone: where others may write it
// may be theirs, and would keep a session from being taken up.
func TestLocksOfOthersHoldNothing(t *testing.T) {
	for mode, want := range map[fs.FileMode]bool{0o700: true, 0o777: false} {
		s := newStore(t, 1)
		if err := os.MkdirAll(s.Folders[0], 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(s.Folders[0], mode); err != nil {
			t.Fatal(err)
		}
		theirs := flock.New(filepath.Join(s.Folders[0], testID+".lock"))
		if err := theirs.Lock(); err != nil {
			t.Fatal(err)
		}
		lock, err := s.Lock(testID)
		lock.Release()
		if _, held := s.HeldBy(testID); held != want || (err != nil) != want {
			t.Errorf("mode %o: held %v, %v; expected held %v", mode, held, err, want)
		}
		theirs.Close()
	}
}
