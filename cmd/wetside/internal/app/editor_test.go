package app

import (
	"errors"
	"runtime"
	"slices"
	"testing"
)

// How each kind of editor is told a line: by its manual.
func TestPlaced(t *testing.T) {
	for _, c := range []struct {
		editor string
		line   int
		want   []string
	}{
		{"vi", 7, []string{"+7", "a.toml"}}, {"/usr/bin/nvim", 7, []string{"+7", "a.toml"}}, {"nano", 0, []string{"a.toml"}},
		{"hx", 7, []string{"a.toml:7"}}, {"Vim.exe", 7, []string{"+7", "a.toml"}}, {"something", 7, []string{"a.toml"}},
	} {
		if got := lineArgs(c.editor, "a.toml", c.line); !slices.Equal(got, c.want) {
			t.Errorf("%s at %d: %q; expected %q", c.editor, c.line, got, c.want)
		}
	}
}

func TestWhichEditor(t *testing.T) {
	there := func(names ...string) func(string) (string, error) {
		return func(name string) (string, error) {
			if slices.Contains(names, name) {
				return name, nil
			}
			return "", errors.New("not there")
		}
	}
	usual := []string{"nano"}
	if runtime.GOOS == "windows" {
		usual = []string{"notepad.exe"}
	}
	for _, c := range []struct {
		visual, editor string
		there, want    []string
	}{
		{"code --wait", "vi", []string{"vi"}, []string{"code", "--wait"}},
		{"", "/opt/my editor/ed", []string{"/opt/my editor/ed"}, []string{"/opt/my editor/ed"}},
		{"", " ", []string{"nano", "vi", "notepad.exe"}, usual},
		{"", "", nil, nil},
	} {
		env := map[string]string{"VISUAL": c.visual, "EDITOR": c.editor}
		got, err := EditorCommand(func(name string) string { return env[name] }, there(c.there...))
		if !slices.Equal(got, c.want) || (err != nil) != (c.want == nil) {
			t.Errorf("%+v: %q, %v", c, got, err)
		}
	}
}
