//go:build unix

package recipes

import (
	"path/filepath"
	"reflect"
	"syscall"
	"testing"
)

// TestListPassesOverPipes: reading a pipe would wait for somebody to write.
func TestListPassesOverPipes(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.toml"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := List(dir); !reflect.DeepEqual(got, ShippedEntries()) {
		t.Errorf("%+v", got)
	}
}
