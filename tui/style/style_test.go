package style

import (
	"strconv"
	"strings"
	"testing"

	"example.org/wetside/tui/light/lighttest"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// contrast is the ratio of WCAG 2.1 ("contrast ratio", "relative luminance").
func contrast(a, b lipgloss.Color) float64 {
	lum := func(c lipgloss.Color) float64 {
		n, _ := strconv.ParseUint(strings.TrimPrefix(string(c), "#"), 16, 32)
		return lighttest.Luminance(uint8(n>>16), uint8(n>>8), uint8(n))
	}
	x, y := lum(a), lum(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// All that is to be read is at least 4.5:1 on black (WCAG 2.1, success criterion 1.4.3), ink
// on the selected row too.
func TestWhatIsReadCanBeRead(t *testing.T) {
	for name, s := range map[string]lipgloss.Style{
		"ink": Ink, "strong": Strong, "quiet": Quiet, "now": Now, "key": Key, "water": Water, "care": Care, "danger": Danger, "done": Done,
	} {
		if r := contrast(s.GetForeground().(lipgloss.Color), "#000000"); r < 4.5 {
			t.Errorf("%s: %.2f:1", name, r)
		}
	}
	if r := contrast(Ink.GetForeground().(lipgloss.Color), RowColour); r < 4.5 {
		t.Errorf("ink on the selected row: %.2f:1", r)
	}
}

func TestColoursDoNotDependOnTheEnvironment(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	t.Setenv("TERM", "dumb")
	if got := Ink.Render("x"); !strings.HasPrefix(got, "\x1b[38;2;216;") || !strings.HasSuffix(got, "mx\x1b[0m") {
		t.Errorf("%q", got) // the colour is 216, 212, 204, up to termenv's rounding
	}
}

func TestSelectedRowIsFilledAcross(t *testing.T) {
	s := SelectedRow(Label("one")+" "+Value("two"), 12)
	if ansi.StringWidth(s) != 12 || ansi.Strip(s) != "one two     " {
		t.Errorf("%q", s)
	}
	for part := range strings.SplitSeq(strings.TrimSuffix(s, reset), reset) {
		if !strings.HasPrefix(part, behind) {
			t.Errorf("%q has no background", part)
		}
	}
}
