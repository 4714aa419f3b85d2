package chem

// Walking along a course, one smooth leg at a time, and the integral over a
// leg. Times are float64 nanoseconds from the start of the walk: exact for
// 2500 hours. And the halving of a bracket, for whatever is sought.

import (
	"math"
	"time"
)

// Longest panels of a leg that has no closed form. The ten-point rule errs by
// f^(20) h^21 (10!)^4/(21 (20!)^3); with the steepest coefficient allowed, 100,
// 5 K change ln(rate) by 2.3, and the error stays below the nanosecond that
// results are rounded to (a test has the series of the exponential integral).
const (
	panelTaus      = 0.5   // time constants
	panelDegrees   = 5     // degrees of change
	settledDegrees = 1e-14 // this near to where it settles, a bath is there
)

// quadrature cuts a course into legs.
type quadrature struct {
	course  Course
	rate    Rate
	edges   []Celsius     // temperatures at which the rate's formula changes
	origin  time.Duration // where x counts from
	x, end  float64       // where the walk is, and where it ends
	reading int           // readings at or before x
}

// newQuadrature begins a walk of the length given. It errs where the course is unusable.
func newQuadrature(rate Rate, c Course, origin, length time.Duration) (quadrature, error) {
	i := c.countUntil(origin)
	if err := c.check(i - 1); err != nil {
		return quadrature{}, err
	}
	w := quadrature{course: c, rate: rate, origin: origin, end: float64(length), reading: i}
	if p, ok := rate.(Pairs); ok {
		w.edges = p.edges
	}
	return w, nil
}

// nextSegment returns the leg that begins at x and moves x to its end.
func (w *quadrature) nextSegment() (segment, error) {
	for w.reading < len(w.course.Readings) && since(w.origin, w.course.Readings[w.reading].At) <= w.x {
		w.reading++
	}
	s := w.course.span(w.origin, w.reading)
	s.from, s.to = w.x, min(s.to, w.end)
	w.limitToPanel(&s)
	w.x = s.to
	return newSegment(s, w.rate)
}

// limitToPanel ends a span at the next edge and, where it has no closed form, after
// one panel.
func (w *quadrature) limitToPanel(s *tempSpan) {
	// settled: from here on constant, so that a long rest costs one leg
	if s.excess != 0 && math.Abs(s.excess)*math.Exp(-(s.from-s.at)/s.tau) < settledDegrees {
		s.t, s.excess = s.t-s.excess, 0
	}
	// a table: ln(time) has a corner at each entry, and ends
	for _, e := range w.edges {
		if x := s.timeOf(float64(e)); x > s.from && x < s.to {
			s.to = x
		}
	}
	// drifting: one panel
	if s.excess != 0 {
		now := s.tempAt(s.from)
		s.to = min(s.to, s.from+panelTaus*s.tau)
		for _, t := range []float64{now - panelDegrees, now + panelDegrees} {
			if x := s.timeOf(t); x > s.from && x < s.to {
				s.to = x
			}
		}
	}
	// linear, with a rate of another kind: one panel
	if s.slope != 0 && !hasClosedForm(w.rate) {
		s.to = min(s.to, s.from+panelDegrees/math.Abs(s.slope))
	}
}

// Bisect halves the bracket of low and high so many times, about the place up to which below holds. Below may look
// at its argument alone; low may be the greater one.
func Bisect[T ~float64](low, high T, times int, below func(T) bool) (T, T) {
	for range times {
		if middle := (low + high) / 2; below(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low, high
}
