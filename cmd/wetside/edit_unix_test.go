//go:build unix

package main

// The editor on a terminal: after a fault it is opened again, at its line.

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.org/wetside/tui/room/glass"
)

func TestEditorComesBackAtTheFault(t *testing.T) {
	dir := t.TempDir()
	recipe, opened := filepath.Join(dir, "own.toml"), filepath.Join(dir, "opened")
	good, _ := os.ReadFile("../../recipes/starters/tern-hangers.toml")
	bad := strings.Replace(string(good), `size   = "4x5in"`, `size   = "big"`, 1)
	line := 1 + strings.Count(bad[:strings.Index(bad, `"big"`)], "\n")
	editor := filepath.Join(dir, "vi") // by its name it takes +LINE
	script := "#!/bin/sh\necho \"$@\" >> " + opened + "\n[ $# -eq 1 ] || cp " + filepath.Join(dir, "good.toml") + " \"$2\"\n"
	for name, text := range map[string]string{recipe: bad, filepath.Join(dir, "good.toml"): string(good), editor: script} {
		if err := os.WriteFile(name, []byte(text), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("VISUAL", "")
	t.Setenv("EDITOR", editor)
	s := wetsideAt(t, glass.Kind{}, "edit", recipe)
	s.seen("the question", func(g *glass.Glass) bool {
		for y := range 24 {
			if strings.Contains(g.Text(y), "edit it again?") {
				return true
			}
		}
		return false
	})
	s.types("\r")
	<-s.ended
	text, err := os.ReadFile(opened)
	want := recipe + "\n+" + strconv.Itoa(line) + " " + recipe + "\n"
	if err != nil || string(text) != want {
		t.Errorf("the editor was opened with %q, %v; expected %q", text, err, want)
	}
}
