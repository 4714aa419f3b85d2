// Package timeline is the session to scale, before anybody has drawn it: what lies where on a
// line of any width, in columns of a screen or units of a picture. For tui/widget, the screens of a
// session and tui/page, so that all show the same. Start with Timeline; it holds no text but names, no colour and no clock.
package timeline

import (
	"time"

	"example.org/wetside/sequence"
)

// Segment is one step on the line: from its first sheet in to the first of the next step,
// or until the last sheet is out.
type Segment struct {
	Name     string
	From, To time.Duration  // since the first sheet went in
	Light    sequence.Light // that there may be in the room
	Dry      bool           // the film is no longer wet, as while it dries
}

// Lit reports whether there may be light in the room; a light of none is dark.
func (s Segment) Lit() bool { return s.Light != "" && s.Light != sequence.Dark }

// Timeline is a session laid out, planned or going on.
type Timeline struct {
	Segments []Segment // in the order of time
	Now      *time.Duration
	Lasting  bool           // Limit is of a bath that lasts until somebody ends it: what is laid out ends it, and keeps within
	Limit    *time.Duration // when the wet time is used up: the moment of the alarm
}

// Kind is what a stretch of the line is at the present moment.
type Kind uint8

const (
	Planned Kind = iota // there is no present moment
	Past                // a step that is over; of the wet line, time that is used
	Elapsed             // of the present step, what is over
	Rest                // of the present step, what is to come
	Ahead               // what is to come
	Spare               // of the wet line, from the last sheet out to the limit
	Over                // beyond the limit
)

// Stretch is a piece of a line.
type Stretch struct {
	Segment  int // -1 on the wet line
	From, To time.Duration
	Kind     Kind
}

// End is the end of the last step, or the present moment where that is later.
func (t Timeline) End() (end time.Duration) {
	for _, s := range t.Segments {
		end = max(end, s.To)
	}
	if t.Now != nil {
		end = max(end, *t.Now)
	}
	return end
}

// WetEnd is when the film is last lifted out of a bath.
func (t Timeline) WetEnd() (end time.Duration) {
	for _, s := range t.Segments {
		if !s.Dry {
			end = max(end, s.To)
		}
	}
	return end
}

// Span is how long a time the whole width stands for, and whether the limit lies so far
// behind the end that it is beyond it.
func (t Timeline) Span() (span time.Duration, beyond bool) {
	end := t.End()
	if t.Limit == nil || *t.Limit <= end {
		return end, false
	}
	if *t.Limit > end+end/4 {
		return end, true
	}
	return *t.Limit, false
}

// At is where on a width a moment lies.
func (t Timeline) At(moment time.Duration, width float64) float64 {
	span, _ := t.Span()
	if span <= 0 {
		return 0
	}
	return float64(min(max(0, moment), span)) / float64(span) * width
}

// Present is the step that goes on; -1 where none does.
func (t Timeline) Present() int {
	if t.Now != nil {
		for i, s := range t.Segments {
			if *t.Now >= s.From && *t.Now < s.To {
				return i
			}
		}
	}
	return -1
}

// Band is the steps, the present one parted where it is parted by the moment.
func (t Timeline) Band() (list []Stretch) {
	present := t.Present()
	for i, s := range t.Segments {
		switch {
		case t.Now == nil:
			list = append(list, Stretch{i, s.From, s.To, Planned})
		case i == present:
			if *t.Now > s.From {
				list = append(list, Stretch{i, s.From, *t.Now, Elapsed})
			}
			list = append(list, Stretch{i, *t.Now, s.To, Rest})
		case s.To <= *t.Now:
			list = append(list, Stretch{i, s.From, s.To, Past})
		default:
			list = append(list, Stretch{i, s.From, s.To, Ahead})
		}
	}
	return list
}

// Wet is the wet line: used, to come, in hand up to the limit, and over it.
func (t Timeline) Wet() (list []Stretch) {
	add := func(from, to time.Duration, k Kind) {
		if to > from {
			list = append(list, Stretch{-1, from, to, k})
		}
	}
	end, now := t.WetEnd(), time.Duration(0)
	if t.Now != nil {
		now = *t.Now
	}
	limit := end
	if t.Limit != nil && (!t.Lasting || *t.Limit > end) {
		limit = *t.Limit
	}
	within := min(end, limit)
	used := min(max(0, now), within)
	if t.Now == nil {
		add(0, within, Planned)
	} else {
		add(0, used, Past)
		add(used, within, Ahead)
	}
	if span, _ := t.Span(); limit > end {
		add(end, min(limit, span), Spare)
	}
	add(limit, end, Over)
	return list
}
