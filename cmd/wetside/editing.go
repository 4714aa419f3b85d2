package main

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

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// Edit makes what is to be edited ready; nothing is made where there is no editor.
func (h *host) Edit(name string) (string, tea.ExecCommand, error) {
	if err := h.mayEdit(); err != nil {
		return "", nil, err
	}
	if _, err := editorCommand(os.Getenv, exec.LookPath); err != nil {
		return "", nil, err
	}
	path, err := recipes.FileOf(name, ownRecipes())
	if err != nil {
		return "", nil, err
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return "", nil, fmt.Errorf("%s: it is no file; expected a recipe", recipes.Clean(path))
	} else if err != nil {
		if name, err = h.copyRecipe(name); err != nil {
			return "", nil, err
		}
		if path, err = recipes.FileOf(name, ownRecipes()); err != nil {
			return "", nil, err
		}
	}
	return name, editing{h, path}, nil
}

// copyRecipe makes a recipe of the person's own from a shipped one, as wetside new
// does, and tells its name.
func (h *host) copyRecipe(name string) (string, error) {
	text, err := h.p.startFrom(name)
	if err != nil {
		return "", err
	}
	return writeFree(ownRecipes(), name+"-own", text)
}

// mayEdit errs where light could reach film.
func (h *host) mayEdit() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.guard.Light() == sequence.Dark {
		return errors.New("the editor is opened in the light only")
	}
	if h.now != nil && h.now.State().Over() == "" {
		return errors.New("a session is being carried out; expected it to be over before the editor is opened")
	}
	return nil
}

// editing is the editor on a recipe, at its first fault where it has one.
type editing struct {
	h    *host
	path string
}

// Run gives the terminal to the editor until it is left. Keys that interrupt are the
// editor's; they come to this process too.
func (e editing) Run() error {
	h := e.h
	if err := h.mayEdit(); err != nil { // much may have happened since it was asked for
		return err
	}
	h.editing.Store(true)
	defer h.editing.Store(false)
	quits := make(chan os.Signal, 1)
	signal.Notify(quits, syscall.SIGQUIT)
	defer signal.Stop(quits)
	h.guard.End()
	h.keys.give()
	err := runEditor(e.path, firstLine(checkFile(e.path)), os.Stdin, os.Stdout, os.Stdout)
	h.keys.take()
	h.guard.Begin()
	return err
}

// The terminal is this process's own, whatever bubbletea offers.
func (editing) SetStdin(io.Reader)  {}
func (editing) SetStdout(io.Writer) {}
func (editing) SetStderr(io.Writer) {}
