package timeline

// A plan laid out as a time line.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// OfPlan is a plan laid out. What comes after the last sheet out of a bath, such as drying,
// goes on for hours and is left out. The limit is the moment of the alarm, the plan's own value.
func OfPlan(p *sequence.Plan) Timeline {
	var t Timeline
	wet := 0
	for _, g := range schedule.Segments(p, p.Passages) {
		st := &p.Steps[g.Step]
		t.Segments = append(t.Segments, Segment{Name: st.Name, From: g.From, To: g.To,
			Light: st.RoomLight, Dry: st.OutsideWetTime})
		if !st.OutsideWetTime {
			wet = len(t.Segments)
		}
	}
	t.Segments = t.Segments[:wet]
	if p.Wet.LimitAt != nil {
		limit := max(1, *p.Wet.LimitAt)
		t.Limit = &limit
	}
	return t
}
