package main

// DEVELOPERS.md leads people to files, folders and tests: each that it names is there, and
// its picture of the house has a line for every room.

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const contributorsPage = "../../DEVELOPERS.md"

var (
	quotedText  = regexp.MustCompile("`([^`\n]+)`")
	testName    = regexp.MustCompile(`^(Test|Fuzz|Benchmark)[A-Z]\w*$`)
	testFunc    = regexp.MustCompile(`(?m)^func ((?:Test|Fuzz|Benchmark)\w+)\(`)
	namedFile   = regexp.MustCompile(`^[\w./-]+\.(go|md|toml|txt|txtar|py|sh)$`)
	namedFolder = regexp.MustCompile(`^(\.ci|[a-z]+)/[\w./-]*$`) // no module: those begin with a host
)

func TestDevelopersNamesWhatThereIs(t *testing.T) {
	page, err := os.ReadFile(contributorsPage)
	if err != nil {
		t.Fatal(err)
	}
	_, tests := rooms(t)
	text, _ := withoutPicture(t, string(page))
	files, named := 0, 0
	for _, m := range quotedText.FindAllStringSubmatch(text, -1) {
		for _, word := range strings.Fields(m[1]) {
			word = strings.TrimSuffix(strings.TrimPrefix(word, "./"), "/...")
			switch test, _, _ := strings.Cut(word, "/"); {
			case testName.MatchString(test):
				named++
				if !slices.Contains(tests, test) {
					t.Errorf("%s: no such test", test)
				}
			case namedFile.MatchString(word) || namedFolder.MatchString(word):
				files++
				if _, err := os.Stat(filepath.Join("../..", word)); err != nil {
					t.Errorf("%s: no such file or folder, from the top", word)
				}
			}
		}
	}
	if files < 60 || named < 60 {
		t.Errorf("%d files and %d tests are named: the page is not read as it is written", files, named)
	}
}

func TestDevelopersShowsEveryRoom(t *testing.T) {
	page, err := os.ReadFile(contributorsPage)
	if err != nil {
		t.Fatal(err)
	}
	folders, _ := rooms(t)
	_, picture := withoutPicture(t, string(page))
	var shown []string
	for line := range strings.Lines(picture) {
		first, what, _ := strings.Cut(strings.TrimSpace(line), " ")
		if strings.TrimSpace(what) == "" {
			t.Errorf("%q: nothing is said of it", first)
		}
		for _, room := range alternatives(first) {
			shown = append(shown, path.Clean(room))
			if info, err := os.Stat(filepath.Join("../..", room)); err != nil || !info.IsDir() {
				t.Errorf("%s: no such room", room)
			}
		}
	}
	for _, p := range folders {
		if !slices.Contains(shown, p) {
			t.Errorf("%s: not in the picture of the house", p)
		}
	}
}

// alternatives are the rooms of a line: "a/{b,c}d/" is a/bd and a/cd.
func alternatives(line string) (list []string) {
	before, rest, several := strings.Cut(line, "{")
	among, after, _ := strings.Cut(rest, "}")
	if !several {
		return []string{line}
	}
	for one := range strings.SplitSeq(among, ",") {
		list = append(list, before+one+after)
	}
	return list
}

// withoutPicture is the page without its first block of code, and that block.
func withoutPicture(t *testing.T, page string) (text, picture string) {
	t.Helper()
	parts := strings.SplitN(page, "```\n", 3)
	if len(parts) != 3 {
		t.Fatal("no picture of the house")
	}
	return parts[0] + parts[2], parts[1]
}

// rooms are all folders with Go files in them, from the top, and the tests in them.
func rooms(t *testing.T) (folders, tests []string) {
	t.Helper()
	top := os.DirFS("../..")
	err := fs.WalkDir(top, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return fs.SkipDir
		case !strings.HasSuffix(name, ".go"):
			return nil
		}
		if dir := path.Dir(name); !slices.Contains(folders, dir) {
			folders = append(folders, dir)
		}
		if !strings.HasSuffix(name, "_test.go") {
			return nil
		}
		text, err := fs.ReadFile(top, name)
		for _, m := range testFunc.FindAllSubmatch(text, -1) {
			tests = append(tests, string(m[1]))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return folders, tests
}
