// Package pagetest turns a screen's pages in tests, as one does who reads on: nothing may be
// passed over. Start with Turn.
package pagetest

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/screen"
)

// reader has a screen before them, in a body of a size.
type reader struct {
	t    testing.TB
	s    screen.Screen
	w, h int
}

// Turn turns the pages of what is read in a window with a bar, in bodies of many sizes: the row
// at the top of each is the one that was last on the page before; only the last page may
// overlap by more.
func Turn(t testing.TB, s screen.Sized) {
	t.Helper()
	turned := 0
	for w := 36; w <= 196; w += 80 {
		for h := 8; h <= 56; h += 12 {
			r := reader{t, s.Sized(w, h), w, h}
			last, first := r.press(tea.KeyEnd).window(), r.press(tea.KeyHome).window()
			if len(first) < 2 {
				continue // all of it is shown
			}
			n := r.press(tea.KeyHome).through(tea.KeyPgDown, last, func(before, after []string) bool { return after[0] == before[len(before)-1] })
			turned += n + r.press(tea.KeyEnd).through(tea.KeyPgUp, first, func(before, after []string) bool { return after[len(after)-1] == before[0] })
		}
	}
	if turned == 0 {
		t.Fatal("no page was turned")
	}
}

// through presses a key until the page that is the end of it, and counts how often.
func (r reader) through(key tea.KeyType, end []string, follows func(before, after []string) bool) (turned int) {
	r.t.Helper()
	for before := r.window(); !slices.Equal(before, end); turned++ {
		r = r.press(key)
		after := r.window()
		if !slices.Equal(after, end) && !follows(before, after) || turned > 1000 {
			r.t.Fatalf("%dx%d: %s leads from\n%s\nto\n%s", r.w, r.h, key, strings.Join(before, "\n"), strings.Join(after, "\n"))
		}
		before = after
	}
	return turned
}

func (r reader) press(key tea.KeyType) reader {
	r.s, _, _ = r.s.Update(tea.KeyMsg{Type: key})
	return r
}

// window is the rows beside the bar, without it.
func (r reader) window() (rows []string) {
	for row := range strings.SplitSeq(ansi.Strip(r.s.View(r.w, r.h)), "\n") {
		for _, bar := range []string{"│", "┃"} {
			if text, ok := strings.CutSuffix(row, bar); ok {
				rows = append(rows, strings.TrimRight(text, " "))
			}
		}
	}
	return rows
}
