//go:build unix

package main

// The editor on a terminal: after a fault it is opened again, at its line.

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.org/wetside/tui/light/vtest"
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
	s := wetsideAt(t, vtest.Behaviour{}, "edit", recipe)
	s.seen("the question", func(g *vtest.Terminal) bool {
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

// vi is an editor that waits for a file "go" beside it: at first it makes a fault, then,
// opened at a line, it mends it.
const vi = `#!/bin/sh
trap : INT QUIT
stty -g >"$0.stty"
echo "$@" >>"$0.opened"
echo EDITOR $#
until [ -e "$0.go" ]; do sleep 0.05; done
rm "$0.go"
case $# in
1) sed -i 's/^size .*/size = "big"/' "$1" ;;
*) sed -i 's/^size .*/size = "4x5in"/' "$2" ;;
esac
`

// showing tells whether a row holds a text.
func showing(text string) func(*vtest.Terminal) bool {
	return func(g *vtest.Terminal) bool {
		_, h := g.Size()
		for y := range h {
			if strings.Contains(g.Text(y), text) {
				return true
			}
		}
		return false
	}
}

// From the screens: the editor has the terminal as the shell has it, and its keys that
// interrupt are its own; then the screens have it again, with what is wrong, and, the
// editor opened there, with the plan. The shipped recipe stays as it is.
func TestEditorFromTheScreens(t *testing.T) {
	editor := filepath.Join(t.TempDir(), "vi")
	if err := os.WriteFile(editor, []byte(vi), 0o700); err != nil {
		t.Fatal(err)
	}
	home, red := redDesk(t)
	s := wetsideWith(t, modernTerminal, []string{"VISUAL=", "EDITOR=" + editor, red})
	s.seen("the list", showing("press r"))
	for i, after := range []string{`e opens it again`, `has no fault. This is its plan`} {
		here := showing(fmt.Sprintf("EDITOR %d", i+1)) // so many words it was given
		s.types("e")
		s.seen("how it is left", showing("Your own editor opens"))
		s.types("\r")
		s.seen("the editor", func(g *vtest.Terminal) bool { return !g.Alternate() && g.CursorShown() && here(g) })
		if stty, _ := os.ReadFile(editor + ".stty"); string(stty) != s.stty {
			t.Errorf("stty -g in the editor: %s; expected %s", stty, s.stty)
		}
		s.types("\x03\x1c")
		if err := os.WriteFile(editor+".go", nil, 0o600); err != nil {
			t.Fatal(err)
		}
		s.seen(after, func(g *vtest.Terminal) bool {
			return g.Alternate() && !g.CursorShown() && g.NonRedCell() == "" && showing(after)(g)
		})
	}
	own := filepath.Join(home, "wetside", "recipes", "curlew-tank-own.toml")
	text, err := os.ReadFile(own)
	if err != nil {
		t.Fatal(err)
	}
	line := 1 + strings.Count(string(text[:strings.Index(string(text), "\nsize ")+1]), "\n")
	opened, _ := os.ReadFile(editor + ".opened")
	if want := own + "\n+" + strconv.Itoa(line) + " " + own + "\n"; string(opened) != want {
		t.Errorf("the editor was opened with %q; expected %q", opened, want)
	}
	s.types("\x03")
	<-s.ended
	s.givenBack()
}
