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
	"sync/atomic"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/light"
)

// Editor gives the terminal to the person's editor.
type Editor struct {
	recipes    recipeFiles
	guard      *light.Guard
	Keys       *Keyboard
	carriesOut func() bool // a session is going on

	Editing atomic.Bool // the editor has the terminal
}

// Edit makes what is to be edited ready; nothing is made where there is no editor.
func (e *Editor) Edit(name string) (string, tea.ExecCommand, error) {
	if err := e.mayEdit(); err != nil {
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
		if name, err = e.recipes.copyRecipe(name); err != nil {
			return "", nil, err
		}
		if path, err = recipes.OwnPath(name, app.RecipesFolder()); err != nil {
			return "", nil, err
		}
	}
	return name, editorCommandOnTerminal{e, path}, nil
}

// mayEdit errs where light could reach film.
func (e *Editor) mayEdit() error {
	if e.guard.Light() == light.Dark {
		return errors.New("the editor is opened in the light only")
	}
	if e.carriesOut() {
		return errors.New("a session is being carried out; expected it to be over before the editor is opened")
	}
	return nil
}

// editorCommandOnTerminal is the editor on a recipe, at its first fault where it has one.
type editorCommandOnTerminal struct {
	*Editor
	path string
}

// Run gives the terminal to the editor until it is left. Keys that interrupt are the
// editor's; they come to this process too.
func (e editorCommandOnTerminal) Run() error {
	if err := e.mayEdit(); err != nil { // much may have happened since it was asked for
		return err
	}
	e.Editing.Store(true)
	defer e.Editing.Store(false)
	quits := make(chan os.Signal, 1)
	signal.Notify(quits, syscall.SIGQUIT)
	defer signal.Stop(quits)
	e.Keys.Restore()
	e.guard.End()
	err := app.RunEditor(e.path, app.FirstFaultLine(app.CheckRecipe(e.path)), os.Stdin, os.Stdout, os.Stdout)
	e.guard.Begin() // it asks the terminal, and reads the answers
	e.Keys.Raw()
	return err
}

// The terminal is this process's own, whatever bubbletea offers.
func (editorCommandOnTerminal) SetStdin(io.Reader)  {}
func (editorCommandOnTerminal) SetStdout(io.Writer) {}
func (editorCommandOnTerminal) SetStderr(io.Writer) {}
