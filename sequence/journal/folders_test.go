package journal

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// A session that its folder could not take is found again by whoever keeps sessions
// there, and by nobody who keeps them elsewhere: not listed, not read, not locked.
func TestFledSessionsAreFoundByTheirOwn(t *testing.T) {
	ours, elsewhere, run := t.TempDir(), t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(ours, "wetside"), nil, 0o600); err != nil { // where a folder should be
		t.Fatal(err)
	}
	for _, fallback := range []string{"XDG_RUNTIME_DIR", "TMPDIR"} {
		t.Run(fallback, func(t *testing.T) {
			t.Setenv("XDG_RUNTIME_DIR", "")
			t.Setenv("TMPDIR", run)
			t.Setenv("TMP", run) // its name on windows
			t.Setenv(fallback, filepath.Join(run, fallback))
			if err := os.MkdirAll(filepath.Join(run, fallback), 0o700); err != nil {
				t.Fatal(err)
			}
			t.Setenv("XDG_STATE_HOME", ours)
			w, err := Default().Create(testID, record(0))
			var trouble *WriteError
			if !errors.As(err, &trouble) || !trouble.SavedElsewhere() {
				t.Fatalf("%v; expected that it is kept elsewhere", err)
			}
			defer w.Close()
			if list := Default().List(); len(list) != 1 || list[0].ID != testID || list[0].Status != Open {
				t.Errorf("its own are shown %v", list)
			}
			t.Setenv("XDG_STATE_HOME", elsewhere)
			if list := Default().List(); len(list) != 0 {
				t.Errorf("a stranger is shown %v", list)
			}
			if _, err := Default().Read(testID); !errors.Is(err, fs.ErrNotExist) {
				t.Errorf("a stranger reads it: %v", err)
			}
			lock, err := Default().Lock(testID)
			if err != nil {
				t.Fatal(err)
			}
			lock.Release()
		})
	}
}

// One folder named twice, as state and as runtime folder, keeps its sessions and
// those that fled apart: a session there must not meet its own lock.
func TestFoldersAreDistinct(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", dir)
	t.Setenv("XDG_RUNTIME_DIR", dir)
	lock, err := Default().Lock(testID)
	if err != nil {
		t.Fatal(err)
	}
	lock.Release()
}

// Where somebody else has the temporary folder's name, one of ours with a longer name takes its
// place, the same for as long as it is there.
func TestTemporaryFolderOfOurs(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("each user has a temporary folder there")
	}
	shared := t.TempDir()
	if err := os.Chmod(shared, 0o777|fs.ModeSticky); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(shared, "wetside-7")
	if got := temporary(name); got != name {
		t.Errorf("nobody has it: %s", got)
	}
	if err := os.Mkdir(name, 0o700); err != nil {
		t.Fatal(err)
	}
	if got := temporary(name); got != name {
		t.Errorf("we have it: %s", got)
	}
	if err := os.Chmod(name, 0o755); err != nil { // as good as another's: it is not ours alone
		t.Fatal(err)
	}
	made := temporary(name)
	if !strings.HasPrefix(made, name+".") || len(made) < len(name)+1+20 || temporary(name) != made {
		t.Errorf("made up %s, then %s; expected one name that nobody can guess", made, temporary(name))
	}
	for _, other := range []struct {
		name string
		mode fs.FileMode
	}{{name + ".a-trap", 0o777}, {name + ".ours", 0o700}, {name + ".z-ours", 0o700}} {
		if err := os.Mkdir(other.name, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(other.name, other.mode); err != nil {
			t.Fatal(err)
		}
	}
	if got := temporary(name); got != name+".ours" {
		t.Errorf("%s; expected the first that is ours", got)
	}
}

// A mark of three letters or digits that no computer changes between two sessions.
func TestLaptop(t *testing.T) {
	if mark := laptop(); len(mark) != 3 || strings.Trim(mark, "abcdefghjkmnpqrstuvwxyz23456789") != "" || mark != laptop() {
		t.Errorf("this computer is %q", mark)
	}
}

// The mark by a second account, Python's hashlib: SHA-256 of wetside, name and number with a zero
// byte between each two, of its first four bytes as a number the three lowest digits to the base of 31.
func TestTheMarkOfALaptop(t *testing.T) {
	for _, c := range [][3]string{{"saltmarsh", "0123456789abcdef0123456789abcdef\n", "wk8"}, {"saltmarsh", "", "jut"}, {"harbour", "", "9hu"}} {
		if got := markOf(c[0], c[1]); got != c[2] {
			t.Errorf("%q, %q: %s; expected %s", c[0], c[1], got, c[2])
		}
	}
}

// One process at a time changes the lists of a folder; the next waits until it is done.
func TestLockFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "lists")
	first, err := LockFolder(folder)
	if err != nil {
		t.Fatal(err)
	}
	taken := make(chan *Lock)
	go func() {
		second, err := LockFolder(folder)
		if err != nil {
			t.Error(err)
		}
		taken <- second
	}()
	select {
	case <-taken:
		t.Fatal("two have it")
	case <-time.After(20 * time.Millisecond):
	}
	if err := first.Release(); err != nil {
		t.Fatal(err)
	}
	second := <-taken
	info, err := os.Stat(filepath.Join(folder, ".lock"))
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("its file: %v, %v", info, err)
	}
	if err := second.Release(); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(filepath.Join(folder, ".lock"))
	if err != nil {
		t.Fatal(err)
	}
	if err := (&Lock{held: []io.Closer{closing{systemFile{f}}}}).Release(); err == nil {
		t.Error("what closing says is lost")
	}
	if err := (*Lock)(nil).Release(); err != nil {
		t.Errorf("nothing to give back: %v", err)
	}
	if _, err := LockFolder(filepath.Join(folder, ".lock")); err == nil {
		t.Error("a file was locked as a folder")
	}
}
