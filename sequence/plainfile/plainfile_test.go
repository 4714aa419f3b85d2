package plainfile

// A file while another program writes it anew, as daemons do: a new file
// is renamed over the old one.

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

func TestRenamedOverWhileItIsRead(t *testing.T) {
	folder := t.TempDir()
	name, next := filepath.Join(folder, "t"), filepath.Join(folder, "next")
	for file, text := range map[string]string{name: "20.1", next: "20.2"} {
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := os.Rename(next, name); err != nil {
		t.Errorf("while it is read: %v", err)
	}
	if text, err := io.ReadAll(f); err != nil || string(text) != "20.1" {
		t.Errorf("read %q, %v", text, err)
	}
	if text, err := Read(name, 100); err != nil || string(text) != "20.2" {
		t.Errorf("then read %q, %v", text, err)
	}
	if _, err := Read(filepath.Join(folder, "none"), 100); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("of a file that is not there: %v", err)
	}
}
