package timeline

// A plan's session on the line, and one that was.

import (
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// OfPlan is a plan on the line. Drying goes on for hours and is nothing to be done: it is left out.
func OfPlan(p *sequence.Plan) Timeline {
	l := OfPassages(p, p.Passages)
	if m := p.Wet.Margin; m != nil {
		l.limited(*m)
	}
	return l
}

// OfRecord is a session as it went, up to a moment; margin is what was left of the wet limit
// at its end, nil where none is known.
func OfRecord(p *sequence.Plan, film []sequence.Passage, at sequence.Elapsed, margin *sequence.Elapsed) Timeline {
	known := make([]sequence.Passage, len(film))
	for i, y := range film {
		y.Out = min(y.Out, max(at, y.In))
		known[i] = y
	}
	l := OfPassages(p, known)
	if margin != nil {
		l.limited(*margin)
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
		l.Segments = append(l.Segments, Segment{Name: st.Name, From: s.From, To: s.To, Lit: st.RoomLight != sequence.Dark})
	}
	return l
}

// limited puts the limit as far behind the last lift as there is margin.
func (t *Timeline) limited(margin time.Duration) {
	if len(t.Segments) > 0 {
		limit := max(1, t.WetEnd()+margin)
		t.Limit = &limit
	}
}
