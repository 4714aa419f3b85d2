package tui

// The strip: the session's time line to scale, the one picture that all screens
// share. Each step is a stretch of it: a full block where the room is dark, half
// as high where there is light. What is past is bright.

import (
	"math"
	"unicode/utf8"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/schedule"
	"example.org/wetside/tui/say"
)

// timeline is what is drawn.
type timeline struct {
	plan     *sequence.Plan
	segments []schedule.Segment
	end      sequence.Elapsed
	from     sequence.Elapsed // its beginning: 0, or earlier where the film went in before a countdown was over
	now      sequence.Elapsed // unmarked for none
	limit    sequence.Elapsed // when the wet time is used up; 0 for none known
	scale    sequence.Elapsed // drawn as if it were as long as this, beside another; 0 for as long as it is
	name     string           // which of several it is; "" where there is one
	after    string           // what follows the last lift out of a bath, such as drying; "" for nothing
}

// unmarked is the present moment of a strip that has none.
const unmarked = -sequence.Never

// timelineRows is how many rows it takes: mark, names, band, times, limit.
const timelineRows = 5

// planTimeline is the strip of a plan.
func planTimeline(p *sequence.Plan) timeline {
	s := timeline{plan: p, segments: schedule.Segments(p, p.Passages), now: unmarked}
	return s.close(p.Wet)
}

// runTimeline is the strip of a session at a moment.
func runTimeline(p *sequence.Plan, l engine.Snapshot) timeline {
	s := timeline{plan: p, segments: schedule.Segments(p, l.Passages), now: say.ShownSecond(l.Now)}
	s = s.close(l.Wet)
	s.now = max(s.now, s.from)
	s.end = max(s.end, s.now)
	return s
}

// summaryTimeline is the strip of a session that is over, up to the last lift out of a
// bath or to where it was stopped.
func summaryTimeline(p *sequence.Plan, l engine.Snapshot) timeline {
	s := timeline{plan: p, segments: schedule.Segments(p, l.Passages)}
	s = s.close(l.Wet)
	if l.Over == sequence.SessionStopped {
		s.end = max(s.end, l.End)
	}
	s.now = s.end
	return s
}

// close finds the strip's two ends and where on it the wet limit lies. Drying goes on for hours and is nothing to be
// done; until it has begun it is only named.
func (s timeline) close(w sequence.Wet) timeline {
	wet, last := 0, len(s.segments)-1
	for i, g := range s.segments {
		s.from, s.end = min(s.from, g.From), max(s.end, g.To)
		if !s.plan.Steps[g.Step].OutsideWetTime {
			wet = i
		}
	}
	if last < 0 {
		return s
	}
	if w.LimitAt != nil {
		s.limit = max(1, *w.LimitAt)
	}
	if dry := s.segments[wet].To; wet < last && s.now <= dry {
		s.after = s.plan.Steps[s.segments[wet+1].Step].Name + " " + sequence.FormatElapsed(s.end-dry) + " ▸"
		s.segments, s.end = s.segments[:wet+1], dry
	}
	return s
}

// draw puts the strip into the first timelineRows rows of r, or into fewer where
// there are fewer: the band alone in one row.
func (s timeline) draw(g grid, r rect) {
	span, beyond := s.span()
	if span <= 0 || r.w < 10 || r.h < 1 {
		return
	}
	at := func(t sequence.Elapsed) int {
		return r.x + int(math.Round(float64(min(t, span)-s.from)/float64(span-s.from)*float64(r.w-1)))
	}
	rows := s.rows(r)
	g.text(s.named(rows.mark, at), s.name, dim)
	s.band(g, rows.band, at)
	s.names(g, rows.names, at)
	s.times(g, rows.times, at)
	if s.now != unmarked {
		s.mark(g, rows.mark, at(s.now))
	} else {
		g.right(rows.mark, s.after, dim)
	}
	if s.limit > 0 {
		s.wetLimit(g, rows.limit, at(min(s.limit, span)), beyond)
	}
}

// span is what its width stands for, and whether the wet limit lies beyond it.
func (s timeline) span() (span sequence.Elapsed, beyond bool) {
	span = max(s.end, s.scale)
	beyond = s.limit > s.end+s.end/4
	if s.limit > 0 && !beyond {
		span = max(span, s.limit)
	}
	return span, beyond
}

// timelineRects are the rows that a strip's parts go to; those of height 0 are left out.
type timelineRects struct{ mark, names, band, times, limit rect }

func (s timeline) rows(r rect) timelineRects {
	switch {
	case r.h >= timelineRows:
		return timelineRects{r.row(0), r.row(1), r.row(2), r.row(3), r.row(4)}
	case r.h == timelineRows-1: // beside another, which shows the limit
		return timelineRects{mark: r.row(0), names: r.row(1), band: r.row(2), times: r.row(3)}
	case r.h >= 2:
		return timelineRects{mark: r.row(0), band: r.row(1)}
	}
	return timelineRects{band: r.row(0)}
}

// band draws the steps; what lies beyond the wet limit stands out.
func (s timeline) band(g grid, r rect, at func(sequence.Elapsed) int) {
	for _, seg := range s.segments {
		block := '█'
		if s.plan.Steps[seg.Step].RoomLight != sequence.Dark {
			block = '▄'
		}
		a, z := at(seg.From), at(seg.To)
		for x := a; x < max(z, a+1); x++ {
			if x == z-1 && z-a > 1 {
				continue // a gap before the next step
			}
			g.set(x, r.y, block, s.shade(x, at))
		}
	}
}

// shade is how bright a column of the band is.
func (s timeline) shade(x int, at func(sequence.Elapsed) int) brightness {
	over := s.limit > 0 && s.limit < s.end && x >= at(s.limit)
	switch {
	case s.now != unmarked && x < at(s.now):
		return strong
	case over:
		return bright
	case s.now != unmarked:
		return faint
	}
	return dim
}

// names writes the name of each step that has room for the whole of it.
func (s timeline) names(g grid, r rect, at func(sequence.Elapsed) int) {
	for i, seg := range s.segments {
		name := safetext.Clean(s.plan.Steps[seg.Step].Name)
		a, room := at(seg.From), at(seg.To)-at(seg.From)
		if i == len(s.segments)-1 {
			room = r.x + r.w - a + 1
		}
		l := text
		if s.now >= seg.From && s.now < seg.To {
			l = bright
		}
		if utf8.RuneCountInString(name) < room {
			g.text(rect{a, r.y, room, r.h}, name, l)
		}
	}
}

// times writes when the session ends, and when each step begins where there is
// room left.
func (s timeline) times(g grid, r rect, at func(sequence.Elapsed) int) {
	end := sequence.FormatElapsed(s.end)
	last := min(at(s.end), r.x+r.w-len(end))
	g.text(rect{last, r.y, len(end), r.h}, end, dim)
	free := r.x
	for _, seg := range s.segments {
		a, label := at(seg.From), sequence.FormatElapsed(seg.From)
		if a >= free && a+len(label) < last {
			free = g.text(rect{a, r.y, len(label), r.h}, label, dim) + 1
		}
	}
}

// named is where the strip's name has its place: before the mark, or where that leaves
// too little of it, behind.
func (s timeline) named(r rect, at func(sequence.Elapsed) int) rect {
	if s.now == unmarked {
		return r
	}
	x := at(s.now)
	label := s.label(r, x)
	before, behind := r.narrowed(max(0, min(x, label.x)-1-r.x)), r.beside(max(x, label.x+label.w)+2-r.x)
	if before.w < utf8.RuneCountInString(s.name) && behind.w > before.w {
		return behind
	}
	return before
}

// label is where the present moment is written, beside its mark at x.
func (s timeline) label(r rect, x int) rect {
	n := len(sequence.FormatElapsed(s.now))
	if x+2+n <= r.x+r.w {
		return rect{x + 2, r.y, n, 1}
	}
	return rect{x - 1 - n, r.y, n, 1}
}

// mark points at the present moment.
func (s timeline) mark(g grid, r rect, x int) {
	if r.h == 0 {
		return
	}
	g.set(x, r.y, '▼', bright)
	g.text(s.label(r, x), sequence.FormatElapsed(s.now), strong)
}

func (s timeline) wetLimit(g grid, r rect, x int, beyond bool) {
	if r.h == 0 {
		return
	}
	label, l := "wet limit at "+sequence.FormatElapsed(s.limit), text
	if s.limit < s.end {
		l = bright
	}
	if beyond {
		g.right(r, label+" ▸", dim)
		return
	}
	g.set(x, r.y, '▲', l)
	if x+2+len(label) <= r.x+r.w {
		g.text(rect{x + 2, r.y, len(label), 1}, label, l)
	} else {
		g.text(rect{x - 1 - len(label), r.y, len(label), 1}, label, l)
	}
}
