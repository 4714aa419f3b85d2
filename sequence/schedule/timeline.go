package schedule

// A plan as segments to scale, one for each step.

import "example.org/wetside/sequence"

// Segment is one step on the time line: from its first sheet in to the first of
// the next step, or the last sheet out.
type Segment struct {
	Step     int
	From, To sequence.Elapsed
}

// Segments puts passages (a plan's, or a session's laid out to the end) on the
// time line. A step that has no passage is left out.
func Segments(p *sequence.Plan, film []sequence.Passage) []Segment {
	var list []Segment
	var end sequence.Elapsed
	for _, y := range film {
		if n := len(list); n == 0 || list[n-1].Step != y.Step {
			list = append(list, Segment{Step: y.Step, From: y.In})
		}
		s := &list[len(list)-1]
		s.From = min(s.From, y.In)
		if y.Out != sequence.Never {
			end = max(end, y.Out)
		}
	}
	for i := range list {
		list[i].To = end
		if i+1 < len(list) {
			list[i].To = list[i+1].From
		}
	}
	return list
}
