package widget

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

const guide = "# Title\n\nSentences that are\nwrapped **very much** anew, with `code`.\n\n- An item that\n  goes on.\n2. Another\n\n    wetside plan tern-hangers --temp 22\n\n## A part\n\n| what | where |\n|---|---|\n| a `thing` | in a place that is far away |\n"

func TestGuideRows(t *testing.T) {
	plain := func(s string) string { return s }
	marked := func(s string) string { return "\x1b[1m" + s + "\x1b[22m" }
	want := `<Title>

Sentences that are wrapped
<very much> anew, with <code>.

- An item that goes on.
2. Another

    wetside plan
      tern-hangers --temp 22

<A part>

what     where
a thing  in a place that is
         far away`
	got := strings.NewReplacer("\x1b[1m", "<", "\x1b[22m", ">").Replace(strings.Join(GuideRows(guide, 28, plain, marked), "\n"))
	if got != want {
		t.Errorf("got\n%s\nexpected\n%s", got, want)
	}
}

// Nothing is wider than it may be, and no character is lost, whatever the guide and the width.
func TestGuideRowsFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := rapid.SampledFrom([]string{"# a head\n", "word ", "`/a/long/path/without/a/blank` ", "**two words** ", "- item\n", "1. item\n", "\n", "\n\n", "    typed in --full\n", "| a | b c |\n", "|---|---|\n", "…ü日本 "})
		text := strings.Join(rapid.SliceOf(piece).Draw(t, "text"), "")
		width := rapid.IntRange(1, 60).Draw(t, "width")
		same := func(s string) string { return s }
		for _, row := range GuideRows(text, width, same, same) {
			if n := ansi.StringWidth(row); n > width {
				t.Fatalf("%d columns: %q has %d", width, row, n)
			}
		}
	})
}
