// Package strips is a session that goes on, or is over, as a strip: for the screens that show
// one. Start with Running. It draws nothing; that is for widget.
package strips

import (
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/schedule"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/timeline"
)

// Running is the strip of a session at a moment: what was, as it was, and what is to come as
// it is laid out now. Its limit is the moment of the alarm.
func Running(p *sequence.Plan, l engine.Snapshot) timeline.Timeline {
	t := timeline.Timeline{Segments: laidOut(p, l.Passages)}
	now := max(0, ShownSecond(l.Now))
	if l.Over != "" {
		now = t.WetEnd()
	}
	if l.Over == sequence.SessionStopped {
		now = l.End
	}
	t.Now = &now
	if at := l.Wet.LimitAt; at != nil {
		limit := max(time.Second, *at)
		t.Limit = &limit
	}
	t.Segments = withoutWaiting(t.Segments, now, l.Over != "")
	t.Lasting = l.Overdue > 0 && l.Wet.Margin != nil && *l.Wet.Margin >= 0 // what is laid out ends the bath now
	return t
}

// LimitIn is the vessel in which the limit will be reached, where that is another than the first;
// "" once the session is over.
func LimitIn(p *sequence.Plan, l engine.Snapshot) string {
	if l.Over != "" {
		return ""
	}
	return say.LimitIn(p)
}

// ShownSecond is the whole second that a moment lies in: what a clock shows of it.
func ShownSecond(now sequence.Elapsed) sequence.Elapsed {
	return now - (now%time.Second+time.Second)%time.Second
}

func laidOut(p *sequence.Plan, film []sequence.Passage) (list []timeline.Segment) {
	for _, g := range schedule.Segments(p, film) {
		st := &p.Steps[g.Step]
		list = append(list, timeline.Segment{Name: safetext.Clean(say.StepName(st.Name)), From: g.From, To: g.To,
			Light: st.RoomLight, Dry: st.OutsideWetTime})
	}
	return list
}

// withoutWaiting leaves out what is dry while it has not begun, and when all is over: drying
// goes on for hours, and nothing is to be done.
func withoutWaiting(list []timeline.Segment, now sequence.Elapsed, over bool) []timeline.Segment {
	for i := len(list) - 1; i > 0 && list[i].Dry && (over || list[i].From >= now); i-- {
		list = list[:i]
	}
	return list
}
