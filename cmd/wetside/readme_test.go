package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every wetside line of the README's sh blocks runs as it is printed.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	top, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	home(t)
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
		if s := virtually(t, nil, shellWords(line)[1:]...); s.status != fine {
			t.Errorf("%s: status %d: %s", line, s.status, &s.err)
		}
	}
	if ran < 15 {
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
