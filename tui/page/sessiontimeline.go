package page

// Two time lines of one scale: planned above actual, and where the wet limit is.

import (
	"slices"

	"example.org/wetside/tui/timeline"
)

// timelines are the session as planned and as it went, and the scale that they share, with the limit on
// it: the session's own, or where nothing has been wet the plan's.
func (s *SessionPage) timelines() (planned, actual, scale timeline.Timeline) {
	planned = timeline.OfPlan(s.Plan)
	actual = timeline.OfRecord(s.Plan, s.Passages, s.At, s.LimitAt)
	limit := s.LimitAt
	if len(s.Passages) == 0 || len(s.Wet) == 0 {
		limit = planned.Limit
	}
	planned.Limit, actual.Limit = nil, nil // each line without a mark of its own
	return planned, actual, timeline.Timeline{Segments: slices.Concat(planned.Segments, actual.Segments), Limit: limit}
}

// sessionLines draws both, and the limit beneath.
func sessionLines(s *SessionPage, width int) (rows []string) {
	planned, actual, scale := s.timelines()
	at := columnsOf(scale, width)
	for _, l := range []struct {
		name string
		line timeline.Timeline
	}{{"planned", planned}, {"actual", actual}} {
		if l.line.End() > 0 {
			rows = append(append(rows, l.name), lineRows(l.line, at(l.line.End())+1)...)
		}
	}
	return append(rows, limitRow(scale, width)...)
}
