package tui

// The editor from the list: what is asked of the host, and what is shown on return.

import (
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// noEditor stands for an editor that is never run.
type noEditor struct{}

func (noEditor) Run() error          { return nil }
func (noEditor) SetStdin(io.Reader)  {}
func (noEditor) SetStdout(io.Writer) {}
func (noEditor) SetStderr(io.Writer) {}

func (h *hall) Edit(name string) (string, tea.ExecCommand, error) {
	h.edited = append(h.edited, name)
	return name, noEditor{}, h.fails
}

// editing is the list with the editor open on the recipe under the cursor.
func editing(t *testing.T, downs int) *desk {
	d := sit(t)
	for range downs {
		d.press("down")
	}
	return d.press("e")
}

func TestEditedIsShown(t *testing.T) {
	d := editing(t, 1)
	if len(d.h.edited) != 1 || d.cmd == nil {
		t.Fatalf("edited %q, command %v", d.h.edited, d.cmd)
	}
	d.send(editedMsg{name: "stack"})
	if d.m.screen != planScreen || d.m.plan.name != "stack" || !strings.Contains(d.m.message, "stack") {
		t.Errorf("screen %v, plan %q, message %q", d.m.screen, d.m.plan.name, d.m.message)
	}
	if d.m.starting {
		t.Error("nothing can be begun any more")
	}
}

func TestEditedWithFaultsIsListed(t *testing.T) {
	d := editing(t, 1)
	d.send(editedMsg{name: "broken"})
	e, _ := d.m.list.recipe()
	if d.m.screen != recipeListScreen || e.Name != "broken" || !d.m.messageIsError || !strings.Contains(d.look().text(), "load: missing") {
		t.Errorf("screen %v, at %q, message %q:\n%s", d.m.screen, e.Name, d.m.message, d.look().text())
	}
	if d.press("e"); len(d.h.edited) != 2 || d.h.edited[1] != "broken" {
		t.Errorf("edited %q", d.h.edited)
	}
}

func TestEditorThatFailsIsTold(t *testing.T) {
	d := editing(t, 1).send(editedMsg{name: "stack", err: errors.New("editor: gone")})
	if d.m.screen != recipeListScreen || d.m.message != "editor: gone" || d.m.starting {
		t.Errorf("screen %v, message %q", d.m.screen, d.m.message)
	}
	d.h.fails = errors.New("no editor")
	if d.press("e"); d.m.message != "no editor" || d.m.starting {
		t.Errorf("message %q", d.m.message)
	}
}

// Nothing is begun while the editor is open, and keys typed before it came keep what
// they led to.
func TestNoSessionBesideTheEditor(t *testing.T) {
	d := editing(t, 0).press("e")
	if len(d.h.edited) != 1 {
		t.Errorf("opened %d times", len(d.h.edited))
	}
	if d.press("r"); len(d.h.begun) != 0 || d.m.screen != recipeListScreen {
		t.Errorf("begun %d, screen %v", len(d.h.begun), d.m.screen)
	}
	d.press("enter").press("enter")
	for range 3 { // what is asked, then the dark
		d.now = d.now.Add(3 * time.Second)
		d.press(" ")
	}
	if !d.m.dark {
		t.Fatalf("not dark: screen %v, %q\n%s", d.m.screen, d.m.message, d.look().text())
	}
	d.send(editedMsg{name: "stack"})
	if !d.m.dark || d.m.screen != prepareScreen || strings.TrimSpace(d.look().text()) != "" {
		t.Errorf("the editor's end led to screen %v, dark %v", d.m.screen, d.m.dark)
	}
}

func TestASessionIsNotEdited(t *testing.T) {
	d := sit(t, cutOff).press("e")
	if len(d.h.edited) != 0 || !d.m.messageIsError {
		t.Errorf("edited %q, message %q", d.h.edited, d.m.message)
	}
}
