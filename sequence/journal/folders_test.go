package journal

import (
	"slices"
	"testing"
)

// One folder named twice, as state and as runtime folder, is one folder: a session
// there must not meet its own lock.
func TestFoldersAreDistinct(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", dir)
	t.Setenv("XDG_RUNTIME_DIR", dir)
	list := Folders()
	sorted := slices.Sorted(slices.Values(list))
	if len(slices.Compact(sorted)) != len(list) || len(list) != 2 {
		t.Fatalf("%q; expected two different folders", list)
	}
	lock, err := Store{Folders: list}.Lock("2026-11-25T1200-plover")
	if err != nil {
		t.Fatal(err)
	}
	lock.Release()
}
