package app

// The person's own editor, opened on a recipe at its first fault.

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
)

// FirstFaultLine is the line of the first fault; 0 where none has one.
func FirstFaultLine(err error) int {
	var faults recipes.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			if f.Line > 0 {
				return f.Line
			}
		}
	}
	return 0
}

// OpenEditor opens the person's editor on a file, at a line where one is known. It is lit.
func (p *Env) OpenEditor(path string, line int) error {
	if SessionRunning() {
		return errors.New("a session is being carried out; expected it to be over before an editor is opened")
	}
	return RunEditor(path, line, p.In, p.Out, p.Err)
}

// RunEditor is OpenEditor on any terminal.
func RunEditor(path string, line int, in io.Reader, out, err io.Writer) error {
	command, none := EditorCommand(os.Getenv, exec.LookPath)
	if none != nil {
		return none
	}
	command = append(command, lineArgs(command[0], path, line)...)
	cmd := exec.Command(command[0], command[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = in, out, err
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("editor %q: %w", safetext.Clean(command[0]), err)
	}
	return nil
}

// EditorCommand is the person's editor with its own arguments, or one that is there.
func EditorCommand(env func(string) string, find func(string) (string, error)) ([]string, error) {
	for _, name := range []string{"VISUAL", "EDITOR"} {
		if text := strings.TrimSpace(env(name)); text != "" {
			if _, err := find(text); err == nil {
				return []string{text}, nil // its path may hold spaces
			}
			return strings.Fields(text), nil
		}
	}
	usual := []string{"editor", "nano", "vi"}
	if runtime.GOOS == "windows" {
		usual = []string{"notepad.exe"}
	}
	for _, name := range usual {
		if _, err := find(name); err == nil {
			return []string{name}, nil
		}
	}
	return nil, errors.New("no editor: expected VISUAL or EDITOR to name one")
}

// Editors by how they are told a line: those that take +LINE before the file (vi's way),
// and those that take FILE:LINE.
var (
	plusLineEditors  = []string{"editor", "vi", "vim", "nvim", "view", "ex", "nano", "pico", "emacs", "emacsclient", "mg", "jmacs", "joe", "ne", "kak", "micro", "tilde", "gedit", "kate"}
	colonLineEditors = []string{"hx", "helix", "subl", "zed"}
)

// lineArgs is the file with its line, as the editor takes it; without the line where it
// is not known how.
func lineArgs(editor, path string, line int) []string {
	name := strings.TrimSuffix(strings.ToLower(filepath.Base(editor)), ".exe")
	at := strconv.Itoa(line)
	switch {
	case line < 1:
	case slices.Contains(plusLineEditors, name):
		return []string{"+" + at, path}
	case slices.Contains(colonLineEditors, name):
		return []string{path + ":" + at}
	}
	return []string{path}
}
