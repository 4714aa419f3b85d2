package chem

// The temperature of a bath over time: the readings so far, straight lines
// between them, and where it drifts after the last.
//
// Assumed after the last reading: Newton's law of cooling with one time
// constant. An open tray settles some degrees below the air of the room
// (evaporation); what it settles at and how fast is the person's to measure.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"time"
)

// Point is one reading: the bath was at T at the time At, which counts from
// the first sheet went in and is negative for a reading before it.
type Point struct {
	At time.Duration `json:"at_s"`
	T  Celsius       `json:"t_c"`
}

// Drift is how a bath moves after its last reading Tr, taken at tr:
// T(t) = Settle + (Tr - Settle) exp(-(t - tr)/Tau). A Tau of zero or less
// means that it has settled at once.
type Drift struct {
	Settle Celsius       `json:"settle_c"`
	Tau    time.Duration `json:"tau_s"`
}

// Course is the temperature of a bath over time: constant before the first
// reading, linear in time between readings, and after the last constant or
// drifting. Readings ascend in time; Add keeps them so.
type Course struct {
	Readings []Point `json:"readings"`
	Drift    *Drift  `json:"drift,omitzero"` // nil: the bath stays at its last reading
}

// At returns the temperature at a time. Without a reading it is where the bath
// settles, and NaN where that is unknown too.
func (c Course) At(t time.Duration) Celsius {
	if len(c.Readings) == 0 {
		if c.Drift != nil {
			return c.Drift.Settle
		}
		return Celsius(math.NaN())
	}
	return Celsius(c.span(t, c.countUntil(t)).tempAt(0))
}

// Add returns the course with one more reading. A second reading at the same
// time replaces the first. The receiver keeps its own readings.
func (c Course) Add(p Point) Course {
	i, found := slices.BinarySearchFunc(c.Readings, p, byTime)
	later := c.Readings[i:]
	if found {
		later = later[1:]
	}
	c.Readings = slices.Concat(c.Readings[:i], []Point{p}, later)
	return c
}

func byTime(a, b Point) int { return cmp.Compare(a.At, b.At) }

// check errs where the course says no temperature that can be worked with, from the
// reading first on: what lies before is used for nothing.
func (c Course) check(first int) error {
	if len(c.Readings) == 0 {
		return fmt.Errorf("bath temperature: no reading; expected at least one")
	}
	for i := max(0, first); i < len(c.Readings); i++ {
		p := c.Readings[i]
		if err := p.T.check(); err != nil {
			return err
		}
		if i > 0 && p.At <= c.Readings[i-1].At {
			return fmt.Errorf("bath temperature: reading %d is not later than the one before; expected readings in the order of time", i+1)
		}
	}
	if c.Drift != nil {
		return c.Drift.Settle.check()
	}
	return nil
}

// countUntil counts the readings taken at t or before.
func (c Course) countUntil(t time.Duration) int {
	return sort.Search(len(c.Readings), func(i int) bool { return c.Readings[i].At > t })
}

// tempSpan is a stretch of time over which the temperature follows one formula.
// Times are nanoseconds from an origin that its maker chose.
type tempSpan struct {
	from, to float64
	at, t    float64 // the temperature is t at the time at
	slope    float64 // K per nanosecond; zero where drifting
	excess   float64 // t - where it settles; zero where it does not drift
	tau      float64 // nanoseconds
}

// span returns the formula that holds from the i-th reading (counted from 1; 0
// is before the first) until the next, which comes at to; +Inf after the last.
// Times in it count from origin.
func (c Course) span(origin time.Duration, i int) tempSpan {
	s := tempSpan{from: math.Inf(-1), to: math.Inf(1)}
	if i < len(c.Readings) {
		s.to = since(origin, c.Readings[i].At)
	}
	if i == 0 {
		s.t = float64(c.Readings[0].T)
		return s
	}
	last := c.Readings[i-1]
	s.from, s.at, s.t = since(origin, last.At), since(origin, last.At), float64(last.T)
	switch {
	// between readings
	case i < len(c.Readings):
		s.slope = float64(c.Readings[i].T-last.T) / (s.to - s.at)
	case c.Drift != nil && c.Drift.Tau <= 0:
		s.t = float64(c.Drift.Settle)
	case c.Drift != nil:
		s.excess, s.tau = float64(last.T-c.Drift.Settle), float64(c.Drift.Tau)
	}
	return s
}

// tempAt is the temperature at the time x, in degrees Celsius.
func (s tempSpan) tempAt(x float64) float64 {
	switch {
	// Ts + (Tr - Ts) e^-u = Tr + (Tr - Ts)(e^-u - 1): exact at the reading
	case s.excess != 0:
		return s.t + s.excess*math.Expm1(-(x-s.at)/s.tau)
	case s.slope != 0:
		return s.t + s.slope*(x-s.at)
	}
	return s.t
}

// timeOf is the time at which the temperature passes t, NaN or infinite where
// it never does. It may lie outside the span.
func (s tempSpan) timeOf(t float64) float64 {
	switch {
	// u = -ln((T - Ts)/(Tr - Ts)) = -ln(1 + (T - Tr)/(Tr - Ts))
	case s.excess != 0:
		return s.at - s.tau*math.Log1p((t-s.t)/s.excess)
	case s.slope != 0:
		return s.at + (t-s.t)/s.slope
	}
	return math.NaN()
}

// since is t - origin in nanoseconds, without overflow.
func since(origin, t time.Duration) float64 {
	d := t - origin
	if (t > origin) != (d > 0) && t != origin {
		return float64(t) - float64(origin)
	}
	return float64(d)
}
