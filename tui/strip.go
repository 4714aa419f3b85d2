package tui

// The strip: the session's time line to scale, the one picture that all screens
// share. Each step is a stretch of it: a full block where the room is dark, half
// as high where there is light. What is past is bright.

import (
	"math"

	"example.org/wetside/sequence"
)

// strip is what is drawn.
type strip struct {
	plan     *sequence.Plan
	segments []sequence.Segment
	end      sequence.Elapsed
	now      sequence.Elapsed // -1 for none
	limit    sequence.Elapsed // when the wet time is used up; 0 for none known
}

// stripRows is how many rows it takes: mark, names, band, times, limit.
const stripRows = 5

// planStrip is the strip of a plan.
func planStrip(p *sequence.Plan) strip {
	s := strip{plan: p, segments: p.Segments(p.Passages), now: -1}
	return s.close(p.Wet)
}

// runStrip is the strip of a session at a moment.
func runStrip(p *sequence.Plan, l sequence.Look) strip {
	s := strip{plan: p, segments: p.Segments(l.Film), now: max(0, l.Now)}
	s = s.close(l.Wet)
	s.end = max(s.end, s.now)
	return s
}

// close finds the strip's end and where on it the wet limit lies: as far behind
// the last lift as there is margin.
func (s strip) close(w sequence.Wet) strip {
	for _, g := range s.segments {
		s.end = max(s.end, g.To)
	}
	if w.Margin != nil {
		s.limit = max(1, s.end+*w.Margin)
	}
	return s
}

// draw puts the strip into the first stripRows rows of r, or into fewer where
// there are fewer: the band alone in one row.
func (s strip) draw(g grid, r rect) {
	span := s.end
	beyond := s.limit > s.end+s.end/4
	if s.limit > 0 && !beyond {
		span = max(span, s.limit)
	}
	if span <= 0 || r.w < 10 || r.h < 1 {
		return
	}
	at := func(t sequence.Elapsed) int {
		return r.x + int(math.Round(float64(min(t, span))/float64(span)*float64(r.w-1)))
	}
	rows := s.rows(r)
	s.band(g, rows.band, at)
	if rows.names.h > 0 {
		s.names(g, rows, r, at)
	}
	if s.now >= 0 && rows.mark.h > 0 {
		s.mark(g, rows.mark, at(s.now))
	}
	if s.limit > 0 && rows.limit.h > 0 {
		s.wetLimit(g, rows.limit, at(min(s.limit, span)), beyond)
	}
}

// stripPlaces are the rows that a strip's parts go to; those of height 0 are left out.
type stripPlaces struct{ mark, names, band, times, limit rect }

func (s strip) rows(r rect) stripPlaces {
	switch {
	case r.h >= stripRows:
		return stripPlaces{r.row(0), r.row(1), r.row(2), r.row(3), r.row(4)}
	case r.h == 4:
		return stripPlaces{rect{}, r.row(0), r.row(1), r.row(2), r.row(3)}
	case r.h >= 2:
		return stripPlaces{mark: r.row(0), band: r.row(1)}
	}
	return stripPlaces{band: r.row(0)}
}

func (s strip) band(g grid, r rect, at func(sequence.Elapsed) int) {
	for _, seg := range s.segments {
		block := '█'
		if s.plan.Steps[seg.Step].RoomLight != sequence.Dark {
			block = '▄'
		}
		a, z := at(seg.From), at(seg.To)
		for x := a; x < max(z, a+1); x++ {
			l := faint
			if s.now >= 0 && x < at(s.now) {
				l = strong
			} else if s.now < 0 {
				l = dim
			}
			if x == z-1 && z-a > 1 {
				continue // a gap before the next step
			}
			g.set(x, r.y, block, l)
		}
	}
}

// names writes each step's name and beginning where there is room.
func (s strip) names(g grid, rows stripPlaces, r rect, at func(sequence.Elapsed) int) {
	free := r.x
	for i, seg := range s.segments {
		a, z := at(seg.From), at(seg.To)
		l := text
		if s.now >= seg.From && s.now < seg.To {
			l = bright
		}
		if z-a > 3 {
			g.text(rect{a, rows.names.y, z - a - 1, 1}, s.plan.Steps[seg.Step].Name, l)
		}
		label := sequence.Clock(seg.From)
		last := i+1 == len(s.segments)
		room := r.x + r.w
		if last {
			room -= len(sequence.Clock(s.end)) + 1
		}
		if a >= free && a+len(label) <= room {
			free = g.text(rect{a, rows.times.y, r.w, 1}, label, dim) + 1
		}
	}
	end := sequence.Clock(s.end)
	if x := min(at(s.end), r.x+r.w-len(end)); x >= free {
		g.text(rect{x, rows.times.y, r.w, 1}, end, dim)
	}
}

func (s strip) mark(g grid, r rect, x int) {
	g.set(x, r.y, '▼', bright)
	label := sequence.Clock(s.now)
	if x+2+len(label) <= r.x+r.w {
		g.text(rect{x + 2, r.y, len(label), 1}, label, strong)
	} else {
		g.text(rect{x - 1 - len(label), r.y, len(label), 1}, label, strong)
	}
}

func (s strip) wetLimit(g grid, r rect, x int, beyond bool) {
	label, l := "wet limit at "+sequence.Clock(s.limit), text
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
