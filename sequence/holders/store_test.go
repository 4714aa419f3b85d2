package holders

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// A list is changed line by line, whole or not at all, and each laptop writes its own.
func TestBox(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "sheets")
	mine, yours := SheetStore{Folder: dir, Laptop: "dry side"}, SheetStore{Folder: dir, Laptop: "attic"}
	if list, err := mine.List(); err != nil || len(list) != 0 {
		t.Fatalf("%v, %v", list, err)
	}
	ten, two := ExposedSheet{Holder: "10", Side: "A", Film: "Plover 80"}, ExposedSheet{Holder: "2", Side: "B", Film: "Plover 80"}
	if err := mine.Add(ten); err != nil {
		t.Fatal(err)
	}
	if err := yours.Add(two); err != nil {
		t.Fatal(err)
	}
	if err := mine.Add(ten); err == nil {
		t.Error("one sheet twice on one list")
	}
	list, err := mine.List()
	if err != nil || len(list) != 2 || list[0].Name() != "2B" || list[1].Name() != "10A" {
		t.Fatalf("%v, %+v", err, list)
	}
	changed := list[0]
	changed.Development = "N+1"
	if err := mine.Replace(list[0], &changed); err != nil {
		t.Fatal(err)
	}
	if err := mine.Replace(list[1], nil); err != nil {
		t.Fatal(err)
	}
	if list, _ = yours.List(); len(list) != 1 || list[0].Development != "N+1" {
		t.Errorf("%+v", list)
	}
	if info, err := os.Stat(filepath.Join(dir, "attic.csv")); err != nil || runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		t.Errorf("%v, %v", info, err)
	}
	changed.Development = "N+9"
	if err := mine.Replace(list[0], &changed); err == nil {
		t.Error("a wrong development was kept")
	}
	if err := os.WriteFile(filepath.Join(dir, "dry-side.csv"), []byte("broken\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := mine.Add(ten); err == nil {
		t.Error("a list that cannot be read was written over")
	}
}
