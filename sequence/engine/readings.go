package engine

// Readings of the developer while running, as the courses of the baths that work by
// temperature. They are only added to, mostly at their end: states share them, so that
// a day of a sensor's costs each reading no more than the first.

import (
	"slices"
	"sync/atomic"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// bathReadings is what has been read, for each step the course of its bath: as planned, then as
// read. Whoever adds a reading leaves what others hold as it is.
type bathReadings struct {
	rows [][]chem.Point // by step, in order of time; nil where temperature counts for nothing
	n    int            // how many each of the others has
	end  *atomic.Int64  // how many the arrays behind the rows have, in whichever state
}

// with is one reading more. Of several at one instant the one told last counts: whoever
// reads again corrects what was typed.
func (r *bathReadings) with(p *sequence.Plan, e sequence.Event) *bathReadings {
	at := e.At
	if e.Since != nil {
		at = *e.Since
	}
	if r == nil {
		r = planned(p)
	}
	next := &bathReadings{rows: slices.Clone(r.rows), n: r.n + 1, end: r.end}
	switch {
	case r.last() < at && r.end.CompareAndSwap(int64(r.n), int64(r.n+1)):
	case r.last() < at && r.has(p, at, *e.Temperature):
		for i, row := range r.rows {
			if row != nil {
				next.rows[i] = row[:r.n+1] // the same event was applied to the same state before
			}
		}
		return next
	default:
		return r.inserted(p, at, *e.Temperature)
	}
	for i, row := range r.rows {
		if row != nil {
			next.rows[i] = append(row, chem.Point{At: at, T: *e.Temperature})
		}
	}
	return next
}

// planned is the courses before anything was read.
func planned(p *sequence.Plan) *bathReadings {
	r := &bathReadings{rows: make([][]chem.Point, len(p.Steps)), end: new(atomic.Int64)}
	for i := range p.Steps {
		if st := &p.Steps[i]; st.TimeByTemperature != nil {
			r.rows[i] = p.Course(st).Readings
			r.n = len(r.rows[i])
		}
	}
	r.end.Store(int64(r.n))
	return r
}

// last is when the last reading was taken; Never where no bath works by temperature.
func (r *bathReadings) last() sequence.Elapsed {
	for _, row := range r.rows {
		if row != nil {
			return row[len(row)-1].At
		}
	}
	return sequence.Never
}

// has reports whether the arrays have this reading already behind what r has of them.
func (r *bathReadings) has(p *sequence.Plan, at sequence.Elapsed, t chem.Celsius) bool {
	for _, row := range r.rows {
		if row != nil && (cap(row) == r.n || row[:r.n+1][r.n] != chem.Point{At: at, T: t}) {
			return false
		}
	}
	return true
}

// inserted is a copy with one reading more, wherever it belongs, and room for those that
// follow.
func (r *bathReadings) inserted(p *sequence.Plan, at sequence.Elapsed, t chem.Celsius) *bathReadings {
	const room = 16
	next := &bathReadings{rows: make([][]chem.Point, len(r.rows)), n: r.n, end: new(atomic.Int64)}
	for i, row := range r.rows {
		if row == nil {
			continue
		}
		c := chem.Course{Readings: row}.Add(chem.Point{At: at, T: t})
		next.n = len(c.Readings)
		next.rows[i] = slices.Grow(c.Readings, next.n/4+room)
	}
	next.end.Store(int64(next.n))
	return next
}
