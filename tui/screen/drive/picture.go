package drive

// Pictures that are kept: what a screen showed when somebody last looked at it.

import (
	"encoding/csv"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/light/lighttest"
	"example.org/wetside/tui/screen"
)

var update = flag.Bool("update", false, "write the pictures anew")

// Picture compares what a screen shows with testdata/NAME.txt, and looks at it by every light.
func Picture(t testing.TB, name string, s screen.Screen, w, h int) {
	t.Helper()
	view := s.View(w, h)
	lighttest.Every(t, view, w, h)
	Kept(t, name, ansi.Strip(view))
}

// Kept compares a text with testdata/NAME.txt, whatever blanks its rows end in; -update
// writes it anew.
func Kept(t testing.TB, name, text string) {
	t.Helper()
	got, path := trimmed(text), filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != trimmed(string(want)) {
		t.Errorf("%s has changed (-update writes it anew):\n%s", path, got)
	}
}

// trimmed is a text without blanks at the ends of its rows.
func trimmed(s string) string {
	rows := strings.Split(strings.TrimRight(s, "\n"), "\n")
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " ")
	}
	return strings.Join(rows, "\n") + "\n"
}

// Table is the rows of a file of comma-separated values, its comments left out.
func Table(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c := csv.NewReader(f)
	c.Comment = '#'
	rows, err := c.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}
