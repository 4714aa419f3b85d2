package tui

// The strip's places.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// The name of a strip and the present moment never stand in each other's place.
func TestStripNamesBesideTheMark(t *testing.T) {
	name, end := "2024-05-04T2141-plover-80", 20*time.Minute
	for now := time.Duration(0); now <= end; now += 10 * time.Second {
		s := timeline{name: name, now: now, end: end, plan: &sequence.Plan{}}
		g := newGrid(60, timelineRows)
		s.draw(g, rect{0, 0, g.w, g.h})
		var row strings.Builder
		for _, c := range g.cells[:g.w] {
			row.WriteRune(c.r)
		}
		if text := row.String(); !strings.Contains(text, name) || !strings.Contains(text, "▼") || !strings.Contains(text, sequence.FormatElapsed(now)) {
			t.Errorf("at %v: %q", now, text)
		}
	}
}
