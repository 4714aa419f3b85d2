package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/recipes"
)

// said finds a command of wetside in running text, with the flags that follow it.
var said = regexp.MustCompile("\\bwetside ([a-z][a-z-]*)((?:[^\n`.;]|\\.[a-z])*)")

// No page that people are given names a command or a flag that there is not.
func TestTextsNameCommandsThatExist(t *testing.T) {
	files := map[string][]byte{"explained.txt": recipes.KeyReference}
	shipped, err := filepath.Glob("../../recipes/starters/*.toml")
	if err != nil || len(shipped) == 0 {
		t.Fatal(err)
	}
	for _, name := range append(shipped, "../../recipes/first-film-test.md", "../../README.md") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = text
	}
	p := &app.Env{}
	root := cli.NewRoot(p)
	found := 0
	for name, text := range files {
		flat := strings.ReplaceAll(string(text), "\n# ", "\n")
		for _, m := range said.FindAllStringSubmatch(flat, -1) {
			cmd := commandNamed(root, m[1])
			if cmd == nil {
				if !plainWords[m[1]] {
					t.Errorf("%s: wetside %s: no such command", filepath.Base(name), m[1])
				}
				continue
			}
			found++
			for _, word := range strings.Fields(m[2]) {
				flag, _, _ := strings.Cut(strings.Trim(word, "`\"()[],:"), "=")
				if strings.HasPrefix(flag, "--") && flag != "--help" && !hasFlag(cmd, flag[2:]) {
					t.Errorf("%s: wetside %s%s: no such flag %s", filepath.Base(name), m[1], m[2], flag)
				}
			}
		}
	}
	if found < 30 {
		t.Errorf("%d commands found", found)
	}
}

// plainWords are those that follow the program's name in a sentence.
var plainWords = map[string]bool{"finds": true, "says": true, "runs": true, "is": true, "never": true, "from": true, "itself": true, "deletes": true, "writes": true, "readings": true, "and": true, "reads": true, "does": true, "stays": true, "on": true, "in": true, "has": true, "knows": true}

func commandNamed(root *cobra.Command, name string) *cobra.Command {
	for _, c := range root.Commands() {
		if c.Name() == name {
			return c
		}
	}
	return nil
}

// hasFlag reports whether a command or one of its own has a flag.
func hasFlag(c *cobra.Command, name string) bool {
	if c.Flags().Lookup(name) != nil || c.InheritedFlags().Lookup(name) != nil {
		return true
	}
	for _, sub := range c.Commands() {
		if hasFlag(sub, name) {
			return true
		}
	}
	return false
}
