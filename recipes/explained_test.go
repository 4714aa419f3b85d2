package recipes

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// What is explained below a new recipe is every key, under its heading, and is never
// read as one.
func TestEveryKeyIsExplained(t *testing.T) {
	text := string(KeyReference)
	for _, keys := range [][]string{topKeys[:2], filmKeys, loadKeys, bathKeys, stepKeys} {
		for _, key := range keys {
			if !strings.Contains(text, "\n# "+key+" ") {
				t.Errorf("%s is not explained", key)
			}
		}
	}
	for _, keys := range [][]string{agitateKeys, temperatureKeys, growthKeys, aimKeys, reciprocityKeys, reuseKeys} {
		for _, key := range keys {
			if !strings.Contains(text, key+" = ") {
				t.Errorf("%s is not explained", key)
			}
		}
	}
	for line := range strings.Lines(text) {
		if line != "\n" && line[0] != '#' {
			t.Errorf("%q is no comment", line)
		}
		word, _, _ := strings.Cut(strings.TrimPrefix(line, "# "), " ")
		known := slices.Concat(topKeys, filmKeys, loadKeys, bathKeys, stepKeys)
		if strings.HasPrefix(line, "# "+word+" ") && strings.Contains(line, " = ") && strings.IndexByte(line, '=') < 20 && !slices.Contains(known, word) && word != "" {
			t.Errorf("%q is no key", word)
		}
	}
	data, _ := ShippedSource("tern-hangers")
	if _, err := Read("x.toml", append(slices.Clone(data), KeyReference...)); err != nil {
		t.Errorf("a recipe with the explanation below it: %v", err)
	}
}

func TestFileOf(t *testing.T) {
	for name, want := range map[string]string{"plover-2": "own/plover-2.toml", "a/b.toml": "a/b.toml", "x.toml": "x.toml"} {
		if got, err := OwnPath(name, "own"); err != nil || filepath.ToSlash(got) != want {
			t.Errorf("%q: %q, %v; expected %q", name, got, err, want)
		}
	}
	for _, name := range []string{"", ".hidden", "two words", "a\x1bb", "star*", "nul", "Nul.toml", "a/com1.toml", `a\aux.toml`, strings.Repeat("x", 65)} {
		if got, err := OwnPath(name, "own"); err == nil {
			t.Errorf("%q: %q; expected an error", name, got)
		}
	}
	if _, err := OwnPath("a", ""); err == nil {
		t.Error("without a home")
	}
}
