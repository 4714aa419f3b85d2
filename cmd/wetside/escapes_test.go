package main

// Whatever is typed, and whatever a file is called, no error makes a terminal do anything.

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/clock"
)

// escaping sets a title, clears the screen, turns text around and hides it.
const escaping = "\x1b]0;owned\a\x1b[2J\u009b31m\u202e\u200b"

// obeyed is the first character that a terminal would obey or not show.
func obeyed(text string) (rune, bool) {
	for _, r := range text {
		if r != '\n' && (r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || strings.ContainsRune("\u202e\u200b", r)) {
			return r, true
		}
	}
	return 0, false
}

// typed runs a command line that nobody answers and wants both outputs to be safe.
func typed(t *testing.T, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	p := &app.Env{In: strings.NewReader(""), Out: &out, Err: &errs, Clock: clock.System(), Signals: func() <-chan os.Signal { return nil }}
	cli.Run(p, args)
	for name, text := range map[string]string{"output": out.String(), "errors": errs.String()} {
		if r, bad := obeyed(text); bad {
			t.Errorf("%q: %s hold %q: %.200q", args, name, r, text)
		}
	}
}

// Every command is given such a name, and such a value for each of its options.
func TestNoErrorIsObeyedByATerminal(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	t.Chdir(t.TempDir())
	t.Setenv("EDITOR", "false")
	t.Setenv("VISUAL", "false")
	lines := 0
	var walk func(c *cobra.Command, path []string)
	walk = func(c *cobra.Command, path []string) {
		for _, sub := range c.Commands() {
			walk(sub, append(path[:len(path):len(path)], sub.Name()))
		}
		try := func(args ...string) {
			lines++
			typed(t, append(path[:len(path):len(path)], args...)...)
		}
		try(escaping)
		try("nowhere/" + escaping)
		try("--" + escaping)
		try("tern-hangers", escaping)
		c.Flags().VisitAll(func(f *pflag.Flag) {
			try("--"+f.Name+"="+escaping, "tern-hangers")
			try("--"+f.Name+"=nowhere/"+escaping+".svg", "tern-hangers")
			try("--"+f.Name+"=wav:nowhere/"+escaping, "tern-hangers", "--plain", "--rehearse", "10000")
		})
	}
	walk(cli.NewRoot(&app.Env{}), nil)
	if lines < 500 {
		t.Errorf("%d lines were typed", lines)
	}
}

// Files whose names or contents hold such things, and settings where they are.
func TestNoFileIsObeyedByATerminal(t *testing.T) {
	hometest.New(t)
	dir := t.TempDir()
	t.Chdir(dir)
	name := escaping[:strings.IndexByte(escaping, '\a')] + ".toml"
	texts := map[string]string{
		"broken":    "title = \"" + escaping,
		"unknown":   "title = \"x\"\n\"" + strings.ReplaceAll(strings.ReplaceAll(escaping, "\x1b", "\\u001b"), "\a", "\\u0007") + "\" = 1\n",
		"not utf-8": "title = \"\xff\x9b31m\"\n",
		"readings":  "log_h,5m\n0," + escaping + "\n",
		"columns":   escaping + ",5m\n0,1\n",
		"holders":   "holder,film," + escaping + "\n1,Tern 125\n",
	}
	for what, text := range texts {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Skip(err)
		}
		t.Run(what, func(t *testing.T) {
			file := "./" + name
			for _, args := range [][]string{{"check", file}, {"plan", file}, {"mix", file}, {"curve", file}, {"fit", "bath", file}, {"fit", "coefficient", file},
				{"fit", "reciprocity", file}, {"holders", "import", file}, {"run", file, "--plain"}, {"new", "one", "--from", file, "--no-edit"}} {
				typed(t, args...)
			}
			settings := filepath.Join(os.Getenv("XDG_CONFIG_HOME"), "wetside", "config.toml")
			os.MkdirAll(filepath.Dir(settings), 0o700)
			if err := os.WriteFile(settings, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			typed(t, "plan", "tern-hangers")
			typed(t, "resume", "--plain")
			os.Remove(settings)
		})
	}
}
