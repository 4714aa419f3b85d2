package timeline

// A session that was, on the line.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// OfRecord is a session as it went, up to a moment; limit is when its wet limit was used up
// or would have been, nil where none is known.
func OfRecord(p *sequence.Plan, film []sequence.Passage, at sequence.Elapsed, limit *sequence.Elapsed) Timeline {
	known := make([]sequence.Passage, len(film))
	for i, y := range film {
		y.Out = min(y.Out, max(at, y.In))
		known[i] = y
	}
	l := OfPassages(p, known)
	if l.Limit = limit; len(l.Segments) == 0 {
		l.Limit = nil
	}
	return l
}

// OfPassages is film's stays on the line, those outside the wet time left out.
func OfPassages(p *sequence.Plan, film []sequence.Passage) (l Timeline) {
	for _, s := range schedule.Segments(p, film) {
		st := &p.Steps[s.Step]
		if st.OutsideWetTime {
			break
		}
		l.Segments = append(l.Segments, Segment{Name: st.Name, From: s.From, To: s.To, Light: st.RoomLight})
	}
	return l
}
