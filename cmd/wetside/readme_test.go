package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
)

// Every wetside line of the sh blocks in the README and in the guide runs as it is
// printed.
func TestReadmeCommands(t *testing.T) {
	if ownProcess(t) {
		return
	}
	for file, least := range map[string]int{"README.md": 15, "recipes/first-film-test.md": 6} {
		t.Run(file, func(t *testing.T) { runBlocks(t, file, least) })
	}
}

// runBlocks runs the commands of a file, of which there are so many at least.
func runBlocks(t *testing.T, file string, least int) {
	text, err := os.ReadFile(filepath.Join("../..", file))
	if err != nil {
		t.Fatal(err)
	}
	top, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	hometest.New(t)
	dir := t.TempDir()
	if err := os.Symlink(filepath.Join(top, "chem"), filepath.Join(dir, "chem")); err != nil {
		t.Skip(err)
	}
	t.Chdir(dir)
	ran, inside := 0, false
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "```") {
			inside = line == "```sh"
			continue
		}
		if !inside || !strings.HasPrefix(line, "wetside ") {
			continue
		}
		ran++
		if s := runVirtually(t, nil, shellWords(line)[1:]...); s.status != app.ExitOK {
			t.Errorf("%s: status %d: %s", line, s.status, &s.err)
		}
	}
	if ran < least {
		t.Errorf("%d commands ran; were the blocks found?", ran)
	}
}

// shellWords splits a line at blanks outside double quotes.
func shellWords(line string) []string {
	var list []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			list = append(list, part)
		} else {
			list = append(list, strings.Fields(part)...)
		}
	}
	return list
}
