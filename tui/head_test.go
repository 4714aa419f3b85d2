package tui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/screen"
)

// Of a head what it is about goes first, then what stands at the right; the title is never left out.
func TestHeadLeavesOutTheLeast(t *testing.T) {
	about := screen.About{Title: "Develop, 2 of 6", Of: "Plover 80, six sheets in trays", Right: "at 4:30"}
	for w, want := range map[int]string{120: "Develop, 2 of 6 Plover 80, six sheets in trays at 4:30", 50: "Develop, 2 of 6 at 4:30", 24: "Develop, 2 of 6"} {
		got := ansi.Strip(frame{w: w, h: 24}.head(about))
		if strings.Join(strings.Fields(got), " ") != want {
			t.Errorf("%d columns: %q; want %q", w, got, want)
		}
	}
}
