package main

// wetside edit: a recipe in the person's editor, checked on return. The file is the
// person's: nothing here writes to it, so no comment of theirs is ever lost.

import (
	"bufio"
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

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/page"
)

func (p *program) editRecipe() *cobra.Command {
	return &cobra.Command{
		Use:   "edit RECIPE",
		Short: "a recipe of your own in your editor, checked on return",
		Long: "Opens a recipe of your own in your editor ($VISUAL, $EDITOR), checks it on return\n" +
			"and shows its plan. Where it has faults they are told, and the editor can be opened\n" +
			"again at the first. wetside never writes to the file itself.",
		Example: "  wetside edit plover-at-home",
		Args:    words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := recipes.FileOf(args[0], ownRecipes())
			if err != nil {
				return usageError{err}
			}
			if _, err := os.Stat(path); err != nil {
				if _, shipped := recipes.Source(args[0]); shipped {
					return fmt.Errorf("recipe %q: it is a shipped one, which is not edited; wetside new NAME --from %s makes your own", args[0], args[0])
				}
				return fmt.Errorf("recipe %q: you have none of that name; wetside new %s makes it", args[0], args[0])
			}
			return p.edit(path)
		},
	}
}

// edit opens the editor, again for as long as the recipe has faults and the person
// wants to see to them. Where nobody can be asked it says them and is done.
func (p *program) edit(path string) error {
	answers := bufio.NewScanner(p.in)
	for line := 0; ; {
		if err := p.openEditor(path, line); err != nil {
			return err
		}
		err := checkFile(path)
		if err == nil {
			return p.showOwn(path)
		}
		p.complain(err)
		if line = firstLine(err); !p.asks("edit it again? (enter: yes, n: leave it as it is) ", answers) {
			return errFound
		}
	}
}

// firstLine is the line of the first fault; 0 where none has one.
func firstLine(err error) int {
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

// asks puts a question to the person at the terminal; where there is none the answer
// is no.
func (p *program) asks(question string, answers *bufio.Scanner) bool {
	if in, ok := p.in.(*os.File); !ok || !term.IsTerminal(int(in.Fd())) {
		return false
	}
	fmt.Fprint(p.err, question)
	return answers.Scan() && !strings.HasPrefix(strings.ToLower(strings.TrimSpace(answers.Text())), "n")
}

// showOwn shows the plan of a recipe that was just edited.
func (p *program) showOwn(path string) error {
	plan, err := p.resolve(path, sequence.Words{})
	if err != nil {
		return err
	}
	fmt.Fprint(p.out, cleaned(page.Plan(&plan, p.settings.Habits, p.width())))
	name := strings.TrimSuffix(filepath.Base(path), ".toml")
	if filepath.Dir(path) != ownRecipes() {
		name = path
	}
	_, err = fmt.Fprintf(p.out, "\nIt is right. Next: wetside run %s --rehearse 30\n", recipes.Clean(name))
	return err
}

// openEditor opens the person's editor on a file, at a line where one is known. It is lit.
func (p *program) openEditor(path string, line int) error {
	if carriedOut() {
		return errors.New("a session is being carried out; expected it to be over before an editor is opened")
	}
	return runEditor(path, line, p.in, p.out, p.err)
}

// runEditor is openEditor on any terminal.
func runEditor(path string, line int, in io.Reader, out, err io.Writer) error {
	command, none := editorCommand(os.Getenv, exec.LookPath)
	if none != nil {
		return none
	}
	command = append(command, placed(command[0], path, line)...)
	cmd := exec.Command(command[0], command[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = in, out, err
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("editor %q: %w", recipes.Clean(command[0]), err)
	}
	return nil
}

// editorCommand is the person's editor with its own arguments, or one that is there.
func editorCommand(env func(string) string, find func(string) (string, error)) ([]string, error) {
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
	plusLine  = []string{"editor", "vi", "vim", "nvim", "view", "ex", "nano", "pico", "emacs", "emacsclient", "mg", "jmacs", "joe", "ne", "kak", "micro", "tilde", "gedit", "kate"}
	colonLine = []string{"hx", "helix", "subl", "zed"}
)

// placed is the file with its line, as the editor takes it; without the line where it
// is not known how.
func placed(editor, path string, line int) []string {
	name := strings.TrimSuffix(strings.ToLower(filepath.Base(editor)), ".exe")
	at := strconv.Itoa(line)
	switch {
	case line < 1:
	case slices.Contains(plusLine, name):
		return []string{"+" + at, path}
	case slices.Contains(colonLine, name):
		return []string{path + ":" + at}
	}
	return []string{path}
}
