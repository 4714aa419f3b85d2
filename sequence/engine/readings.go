package engine

// Readings of the developer while running, as the courses of the baths that work by
// temperature. They are only added to, mostly at their end: states share them, so that
// a day of a sensor's costs each reading no more than the first.

import (
	"cmp"
	"slices"
	"sync/atomic"

	"example.org/wetside/chem"
	"example.org/wetside/chem/estimate"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// bathReadings is what has been read, for each step the course of its bath: as planned, then as
// read, or as estimated from that where thermometers have errors. Whoever adds a reading leaves what
// others hold as it is.
type bathReadings struct {
	rows [][]chem.Point // by step, in order of time; nil where temperature counts for nothing
	n    int            // how many each of the others has
	end  *atomic.Int64  // how many the arrays behind the rows have, in whichever state

	raw    []estimate.Reading // as read, in order of time; nil where thermometers are exact, as is known
	states []estimate.State   // by step: what is known at the last reading
	known  []estimate.Bath    // by step
}

// with is one reading more. Of several at one instant the one told last counts: whoever
// reads again corrects what was typed.
func (r *bathReadings) with(p *sequence.Plan, e sequence.Event) *bathReadings {
	reading := readingOf(p, e)
	if r == nil {
		r = planned(p)
	}
	if r.last() >= reading.At {
		return r.inserted(p, reading)
	}
	next, points := r.taken(reading)
	switch {
	case r.end.CompareAndSwap(int64(r.n), int64(r.n+1)):
		for i, row := range r.rows {
			if row != nil {
				next.rows[i] = append(row, points[i])
			}
		}
		if r.known != nil {
			next.raw = append(r.raw, reading)
		}
	case r.has(points):
		for i, row := range r.rows {
			if row != nil {
				next.rows[i] = row[:r.n+1] // the same event was applied to the same state before
			}
		}
		if r.known != nil {
			next.raw = r.raw[:len(r.raw)+1]
		}
	default:
		return r.inserted(p, reading)
	}
	return next
}

// readingOf is the reading that an event tells of, shifted as its thermometer wants it.
func readingOf(p *sequence.Plan, e sequence.Event) estimate.Reading {
	r := estimate.Reading{At: e.At, T: *e.Temperature + p.Conditions.Thermometers.Of(e.Source).Shift}
	if e.Since != nil {
		r.At = *e.Since
	}
	if e.Source == sequence.BySensor {
		r.By = estimate.Sensor
	}
	return r
}

// taken is a copy that will have one reading more, and what that adds to each row.
func (r *bathReadings) taken(reading estimate.Reading) (next *bathReadings, points []chem.Point) {
	next = &bathReadings{rows: slices.Clone(r.rows), n: r.n + 1, end: r.end, known: r.known, states: slices.Clone(r.states)}
	points = make([]chem.Point, len(r.rows))
	for i, row := range r.rows {
		points[i] = chem.Point{At: reading.At, T: reading.T}
		if row != nil && r.known != nil {
			next.states[i] = r.known[i].Take(r.states[i], reading)
			points[i].T, _ = next.states[i].Bath()
		}
	}
	return next, points
}

// planned is the courses before anything was read.
func planned(p *sequence.Plan) *bathReadings {
	r := &bathReadings{rows: make([][]chem.Point, len(p.Steps)), end: new(atomic.Int64)}
	if schedule.HasErrors(p) {
		r.known, r.states = make([]estimate.Bath, len(p.Steps)), make([]estimate.State, len(p.Steps))
	}
	for i := range p.Steps {
		if st := &p.Steps[i]; st.TimeByTemperature != nil {
			r.rows[i] = p.Course(st).Readings
			r.n = len(r.rows[i])
			if r.known != nil {
				r.known[i] = schedule.EstimatedBath(p, i)
				r.states[i] = r.known[i].Begin(schedule.PlannedReading(p, i))
			}
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

// has reports whether the arrays have these already behind what r has of them.
func (r *bathReadings) has(points []chem.Point) bool {
	for i, row := range r.rows {
		if row != nil && (cap(row) == r.n || row[:r.n+1][r.n] != points[i]) {
			return false
		}
	}
	return r.known == nil || cap(r.raw) > len(r.raw)
}

// inserted is a copy with one reading more, wherever it belongs, and room for those that
// follow.
func (r *bathReadings) inserted(p *sequence.Plan, reading estimate.Reading) *bathReadings {
	const room = 16
	next := &bathReadings{rows: make([][]chem.Point, len(r.rows)), n: r.n, end: new(atomic.Int64), known: r.known, states: slices.Clone(r.states)}
	if r.known != nil {
		next.raw = slices.Grow(withReading(r.raw, reading), len(r.raw)/4+room)
	}
	for i, row := range r.rows {
		if row == nil {
			continue
		}
		c := chem.Course{Readings: row}.Add(chem.Point{At: reading.At, T: reading.T})
		if r.known != nil {
			c.Readings, next.states[i] = estimated(p, i, r.known[i], next.raw)
		}
		next.n = len(c.Readings)
		next.rows[i] = slices.Grow(c.Readings, next.n/4+room)
	}
	next.end.Store(int64(next.n))
	return next
}

// withReading is a list in order of time with one more, in the place of one at the same moment.
func withReading(list []estimate.Reading, r estimate.Reading) []estimate.Reading {
	i, found := slices.BinarySearchFunc(list, r, func(a, b estimate.Reading) int { return cmp.Compare(a.At, b.At) })
	later := list[i:]
	if found {
		later = later[1:]
	}
	return slices.Concat(list[:i], []estimate.Reading{r}, later)
}

// allReadings is the reading that step i was planned by and those that were taken; one that was taken at that moment
// is in its place.
func allReadings(p *sequence.Plan, i int, raw []estimate.Reading) []estimate.Reading {
	first := schedule.PlannedReading(p, i)
	if _, found := slices.BinarySearchFunc(raw, first, func(a, b estimate.Reading) int { return cmp.Compare(a.At, b.At) }); found {
		return raw
	}
	return withReading(raw, first)
}

// estimated is the course of step i's bath, estimated anew from all readings.
func estimated(p *sequence.Plan, i int, b estimate.Bath, raw []estimate.Reading) ([]chem.Point, estimate.State) {
	all := allReadings(p, i, raw)
	s := b.Begin(all[0])
	points := make([]chem.Point, len(all))
	for k, r := range all {
		if k > 0 {
			s = b.Take(s, r)
		}
		t, _ := s.Bath()
		points[k] = chem.Point{At: r.At, T: t}
	}
	return points, s
}

// sensorEvery is how far apart readings of a sensor are that count for how well the bath is known: its offset, which
// they share, is what matters.
const sensorEvery = 5 * sequence.Elapsed(1e9)

// knownMean is how well step i's bath is known at a moment, its mean counted from when film came in; false where
// thermometers are exact, as far as is known.
func (f filmState) knownMean(i int, in, now sequence.Elapsed) (estimate.Bath, estimate.State, bool) {
	if !schedule.HasErrors(f.plan) || f.plan.Steps[i].TimeByTemperature == nil {
		return estimate.Bath{}, estimate.State{}, false
	}
	var raw []estimate.Reading
	if f.readings != nil {
		raw = f.readings.raw
	}
	b, all := schedule.EstimatedBath(f.plan, i), allReadings(f.plan, i, raw)
	s, counting := b.Begin(all[0]), false
	count := func(until sequence.Elapsed) {
		if !counting && until >= in {
			s, counting = b.Until(s, in).Counting(), true
		}
	}
	last := all[0].At
	for k, r := range all[1:] {
		if r.By == estimate.Sensor && r.At-last < sensorEvery && k+2 < len(all) {
			continue
		}
		count(r.At)
		s, last = b.Take(s, r), r.At
	}
	count(in)
	return b, b.Until(s, now), true
}
