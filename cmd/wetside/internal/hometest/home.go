// Package hometest gives tests folders of their own in the place of the person's settings,
// sessions and data. For tests alone; start with New.
package hometest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// New gives the test folders of its own for settings and sessions.
func New(t *testing.T) {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR", "TMPDIR"} {
		sub := filepath.Join(dir, strings.ToLower(name))
		if err := os.Mkdir(sub, 0o700); err != nil {
			t.Fatal(err)
		}
		t.Setenv(name, sub)
	}
}
