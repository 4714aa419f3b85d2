package chem

// A time-temperature table as a rate: what a recipe gives instead of a
// temperature coefficient.
//
// Straight lines in ln(time) make each pair of neighbours a temperature
// coefficient of its own, so that a table of two entries and a coefficient are
// one law. A table bends where a film does; past its ends nothing is known,
// and a degree is all that is lent.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
)

// ErrOutsideTable says that a temperature lies more than Beyond past the end
// of a time-temperature table, where nothing is extrapolated.
var ErrOutsideTable = errors.New("temperature outside the time-temperature table")

// MaxExtrapolation is how far past either end of a table a time is still continued.
const MaxExtrapolation Celsius = 1

// edgeTolerance forgives the rounding of a temperature converted from Fahrenheit.
const edgeTolerance Celsius = 1e-9

// Pairs is the rate by a time-temperature table. Between entries ln(time) is
// linear in the temperature; up to Beyond past either end the last line goes
// on; further out is refused, but by Continued. Make one with NewPairs.
type Pairs struct {
	entries   []Pair    // ascending, at least two
	edges     []Celsius // where the line changes, and the two ends of the known range
	lnRef     float64   // ln(time) at the reference, by the table
	continued bool      // the first and the last line go on for as far as anybody asks
}

// Continued is the rate with the table's first and last line going on past its ends, so
// that ln(time) stays linear in the temperature there: what a bath that has left the
// table is counted by. Nobody measured it; whoever uses it says so.
func (p Pairs) Continued() Pairs {
	p.continued = true
	p.edges = p.edges[1 : len(p.edges)-1]
	return p
}

// NewPairs makes a rate of a time-temperature table: the table's own time at
// the reference over its time at T, so that a recipe may use a time that is
// not the table's (for another contrast, say). Entries may come in any order. It errs with fewer
// than two entries, with two at one temperature, with times that are not above
// zero or rise with temperature, and with a reference outside the table.
func NewPairs(reference Celsius, entries []Pair) (Pairs, error) {
	p := Pairs{entries: slices.Clone(entries)}
	sort.Slice(p.entries, func(i, j int) bool { return p.entries[i].T < p.entries[j].T })
	if err := checkEntries(p.entries); err != nil {
		return Pairs{}, err
	}
	// the first and the last entry are no corners: their lines go on
	p.edges = append(p.edges, p.entries[0].T-MaxExtrapolation)
	for _, e := range p.entries[1 : len(p.entries)-1] {
		p.edges = append(p.edges, e.T)
	}
	p.edges = append(p.edges, p.entries[len(p.entries)-1].T+MaxExtrapolation)
	line, err := p.rateLine(reference)
	if err != nil {
		return Pairs{}, fmt.Errorf("reference: %w", err)
	}
	p.lnRef = line.lnTime(float64(reference))
	return p, nil
}

// checkEntries errs where sorted entries are not a table of falling times.
func checkEntries(entries []Pair) error {
	if len(entries) < 2 {
		return fmt.Errorf("time-temperature table: %d entries; expected at least two", len(entries))
	}
	for i, e := range entries {
		if err := e.T.check(); err != nil {
			return fmt.Errorf("time-temperature table: %w", err)
		}
		if !(e.Seconds > 0) || math.IsInf(e.Seconds, 0) {
			return fmt.Errorf("time-temperature table: time %g s at %g C; expected above zero", e.Seconds, e.T)
		}
		if i == 0 {
			continue
		}
		low := entries[i-1]
		if low.T == e.T {
			return fmt.Errorf("time-temperature table: %g C stands there twice; expected one time for each temperature", e.T)
		}
		if e.Seconds > low.Seconds {
			return fmt.Errorf("time-temperature table: %g s at %g C but %g s at %g C; expected times that fall with warmth", low.Seconds, low.T, e.Seconds, e.T)
		}
		if k := math.Pow(low.Seconds/e.Seconds, 10/float64(e.T-low.T)); !(k <= maxCoefficient) {
			return fmt.Errorf("time-temperature table: %g s at %g C and %g s at %g C are too steep; expected a coefficient of at most %d", low.Seconds, low.T, e.Seconds, e.T, maxCoefficient)
		}
	}
	return nil
}

// At returns the table's time at the reference over its time at t: exactly 1
// at the reference. It errs with ErrOutsideTable.
func (p Pairs) At(t Celsius) (float64, error) {
	line, err := p.rateLine(t)
	if err != nil {
		return 0, err
	}
	return math.Exp(line.lnRate(float64(t))), nil
}

// rateLine returns the line that holds at t.
func (p Pairs) rateLine(t Celsius) (rateLine, error) {
	n := len(p.entries)
	if n < 2 {
		return rateLine{}, errors.New("time-temperature table: no entries; expected one made by NewPairs")
	}
	if err := t.check(); p.continued && err != nil {
		return rateLine{}, err
	}
	if lo, hi := p.entries[0].T-MaxExtrapolation, p.entries[n-1].T+MaxExtrapolation; !p.continued && !(t >= lo-edgeTolerance && t <= hi+edgeTolerance) {
		return rateLine{}, fmt.Errorf("%w: %s; expected %s to %s", ErrOutsideTable, t.InBoth(), lo.InBoth(), hi.InBoth())
	}
	// ln(time) = ln a + (ln b - ln a)(T - Ta)/(Tb - Ta), the first and the last
	// line going on past their ends
	i := sort.Search(n-1, func(i int) bool { return p.entries[i].T > t })
	i = max(i, 1)
	a, b := p.entries[i-1], p.entries[i]
	lnA := math.Log(a.Seconds)
	return rateLine{
		at:        float64(a.T),
		ln:        lnA,
		slope:     (math.Log(b.Seconds) - lnA) / float64(b.T-a.T),
		reference: p.lnRef,
	}, nil
}
