package backend

// The editor from the screens: the terminal is given to it and taken back. Its
// colours are its own, so it is opened only where white light harms nothing: never in
// the dark, never while a session is carried out.

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// Edit makes what is to be edited ready; nothing is made where there is no editor.
func (h *Backend) Edit(name string) (string, tea.ExecCommand, error) {
	if err := h.mayEdit(); err != nil {
		return "", nil, err
	}
	if _, err := app.EditorCommand(os.Getenv, exec.LookPath); err != nil {
		return "", nil, err
	}
	path, err := recipes.OwnPath(name, app.RecipesFolder())
	if err != nil {
		return "", nil, err
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return "", nil, fmt.Errorf("%s: it is no file; expected a recipe", safetext.Clean(path))
	} else if err != nil {
		if name, err = h.copyRecipe(name); err != nil {
			return "", nil, err
		}
		if path, err = recipes.OwnPath(name, app.RecipesFolder()); err != nil {
			return "", nil, err
		}
	}
	return name, editorCommandOnTerminal{h, path}, nil
}

// mayEdit errs where light could reach film.
func (h *Backend) mayEdit() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.Guard.Light() == sequence.Dark {
		return errors.New("the editor is opened in the light only")
	}
	if h.current != nil && h.current.State().Over() == "" {
		return errors.New("a session is being carried out; expected it to be over before the editor is opened")
	}
	return nil
}

// editorCommandOnTerminal is the editor on a recipe, at its first fault where it has one.
type editorCommandOnTerminal struct {
	b    *Backend
	path string
}

// Run gives the terminal to the editor until it is left. Keys that interrupt are the
// editor's; they come to this process too.
func (e editorCommandOnTerminal) Run() error {
	h := e.b
	if err := h.mayEdit(); err != nil { // much may have happened since it was asked for
		return err
	}
	h.Editing.Store(true)
	defer h.Editing.Store(false)
	quits := make(chan os.Signal, 1)
	signal.Notify(quits, syscall.SIGQUIT)
	defer signal.Stop(quits)
	h.Guard.End()
	h.Keys.Restore()
	err := app.RunEditor(e.path, app.FirstFaultLine(app.CheckRecipe(e.path)), os.Stdin, os.Stdout, os.Stdout)
	h.Keys.Raw()
	h.Guard.Begin()
	return err
}

// The terminal is this process's own, whatever bubbletea offers.
func (editorCommandOnTerminal) SetStdin(io.Reader)  {}
func (editorCommandOnTerminal) SetStdout(io.Writer) {}
func (editorCommandOnTerminal) SetStderr(io.Writer) {}
