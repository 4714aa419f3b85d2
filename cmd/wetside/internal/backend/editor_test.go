//go:build unix

package backend

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/wetside/tui/light"
)

// An editor that was asked for is not opened once it is dark: then the light counts, and
// the terminal is left alone.
func TestNoEditorInTheDark(t *testing.T) {
	h := &Editor{guard: light.NewGuard(os.Stdout), carriesOut: func() bool { return false }}
	h.guard.Adopt(light.Dark, true, light.Nothing)
	marker := filepath.Join(t.TempDir(), "opened")
	t.Setenv("VISUAL", "")
	t.Setenv("EDITOR", "touch "+marker)
	if err := (editorCommandOnTerminal{h, marker}).Run(); err == nil {
		t.Error("opened in the dark")
	}
	if _, _, err := h.Edit("tern-hangers"); err == nil {
		t.Error("made ready in the dark")
	}
	if _, err := os.Stat(marker); err == nil {
		t.Error("the editor was started")
	}
}
