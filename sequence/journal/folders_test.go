package journal

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
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
