package widget

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/timeline"
)

// Two sessions have one scale: one that is half as long has half the band. The limit, the
// later one's, is on it.
func TestPairHasOneScale(t *testing.T) {
	line := func(d time.Duration) timeline.Timeline {
		return timeline.Timeline{Segments: []timeline.Segment{{Name: "develop", To: d}}}
	}
	p := Pair{Names: [2]string{"planned", "actual"}, Lines: [2]timeline.Timeline{line(10 * time.Minute), line(20 * time.Minute)}, Width: 49, Rows: 7}
	rows := strings.Split(ansi.Strip(p.View()), "\n")
	if a, b := strings.Count(rows[1], "█"), strings.Count(rows[2], "█"); a != 20 || b != 40 {
		t.Errorf("bands of %d and %d columns, of 40\n%s", a, b, strings.Join(rows, "\n"))
	}
	p.Rows = 2
	if got := strings.Split(p.View(), "\n"); len(got) != 2 {
		t.Errorf("%d rows; expected the bands alone", len(got))
	}
	p.Width = 12
	if got := p.View(); got != "" {
		t.Errorf("%q in no room", got)
	}
}

func TestPairsFit(t *testing.T) {
	for w := 1; w < 120; w += 3 {
		for rows := 1; rows < 8; rows++ {
			for _, both := range []bool{false, true} {
				v := Pair{Names: [2]string{"2024-05-01", "2024-05-04"}, Lines: [2]timeline.Timeline{trays(), trays()}, BothWet: both, Width: w, Rows: rows}.View()
				if Width(v) > w || strings.Count(v, "\n")+1 > rows {
					t.Fatalf("%dx%d:\n%s", w, rows, v)
				}
			}
		}
	}
}
