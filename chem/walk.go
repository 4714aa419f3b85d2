package chem

// Walking along a course, one smooth leg at a time, and the integral over a
// leg. Times are float64 nanoseconds from the start of the walk: exact for
// 2500 hours.

import (
	"math"
	"time"
)

// Longest panels of a leg that has no closed form. The ten-point rule errs by
// f^(20) h^21 (10!)^4/(21 (20!)^3); with the steepest coefficient allowed, 100,
// 5 K change ln(rate) by 2.3, and the error stays below the nanosecond that
// results are rounded to (a test has the series of the exponential integral).
const (
	panelTaus  = 0.5   // time constants
	panelK     = 5     // degrees of change
	settledAtK = 1e-14 // this near to where it settles, a bath is there
)

// walk cuts a course into legs.
type walk struct {
	course Course
	rate   Rate
	edges  []Celsius     // temperatures at which the rate's formula changes
	origin time.Duration // where x counts from
	x, end float64       // where the walk is, and where it ends
	i      int           // readings at or before x
}

// newWalk begins a walk of the length given. It errs where the course is unusable.
func newWalk(rate Rate, c Course, origin, length time.Duration) (walk, error) {
	i := c.after(origin)
	if err := c.check(i - 1); err != nil {
		return walk{}, err
	}
	w := walk{course: c, rate: rate, origin: origin, end: float64(length), i: i}
	if p, ok := rate.(Pairs); ok {
		w.edges = p.edges
	}
	return w, nil
}

// next returns the leg that begins at x and moves x to its end.
func (w *walk) next() (leg, error) {
	for w.i < len(w.course.Readings) && since(w.origin, w.course.Readings[w.i].At) <= w.x {
		w.i++
	}
	s := w.course.span(w.origin, w.i)
	s.from, s.to = w.x, min(s.to, w.end)
	w.shorten(&s)
	w.x = s.to
	return newLeg(s, w.rate)
}

// shorten ends a span at the next edge and, where it has no closed form, after
// one panel.
func (w *walk) shorten(s *span) {
	// settled: from here on constant, so that a long rest costs one leg
	if s.away != 0 && math.Abs(s.away)*math.Exp(-(s.from-s.at)/s.tau) < settledAtK {
		s.t, s.away = s.t-s.away, 0
	}
	// a table: ln(time) has a corner at each entry, and ends
	for _, e := range w.edges {
		if x := s.when(float64(e)); x > s.from && x < s.to {
			s.to = x
		}
	}
	// drifting: one panel
	if s.away != 0 {
		now := s.temp(s.from)
		s.to = min(s.to, s.from+panelTaus*s.tau)
		for _, t := range []float64{now - panelK, now + panelK} {
			if x := s.when(t); x > s.from && x < s.to {
				s.to = x
			}
		}
	}
	// linear, with a rate of another kind: one panel
	if s.slope != 0 && !straight(w.rate) {
		s.to = min(s.to, s.from+panelK/math.Abs(s.slope))
	}
}
