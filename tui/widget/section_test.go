package widget

import (
	"strings"
	"testing"

	"example.org/wetside/tui/say"
)

// A table's numbers end in one column beneath their headings; a text breaks beside its day; nothing is wider than the page.
func TestSectionRows(t *testing.T) {
	s := say.Section{Columns: []string{"", "time", "90%"}, Rows: [][]string{{"N", "5:55", "5:15–6:40"}, {"N+2", "12:55", "11:10–15:45"}}}
	if got := strings.Join(SectionRows(s, 40), "\n"); got != "      time          90%\nN     5:55    5:15–6:40\nN+2  12:55  11:10–15:45" {
		t.Errorf("a table:\n%s", got)
	}
	s = say.Section{Rows: [][]string{{"2026-11-24", "test of 4 sheets, readings 2026-11-24-tern"}}, Lines: []string{"A sentence that is longer."}}
	want := "2026-11-24  test of\n            4 sheets,\n            readings\n            2026-11-24-t\n            ern\nA sentence that is\n  longer."
	if got := strings.Join(SectionRows(s, 24), "\n"); got != want {
		t.Errorf("texts:\n%s", got)
	}
	for w := 1; w < 60; w++ {
		for _, row := range SectionRows(s, w) {
			if Width(row) > w {
				t.Errorf("%d columns: %q", w, row)
			}
		}
	}
}
