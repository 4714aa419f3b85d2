package curve

// What the sheets and their readings may be off, and what is taken for it where nobody
// says: the reading error from the readings themselves, the scatters from what is usual
// and, where there are sheets and sessions enough, from those.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// The usual scatters, as fractions of the gradient, and how far they may be wrong: two
// times in three within a factor of 1.65 either way (the spread is our own rule).
const (
	usualScatter  = 0.04 // from sheet to sheet: 3 to 5 % is usual (common practice, no source)
	usualSessions = 0.05 // from session to session: 5 % (common practice, no source)
	usualSpread   = 0.5  // of their logarithm
)

// The bounds of a reading error. Under the finest that can be told from a curve's own
// bends, readings are taken for exact.
const (
	defaultReadingError = 0.02 // density, at home, where there are too few readings to tell; two laboratories agree within 0.010
	maxReadingError     = 0.2
	exactReadings       = 0.0025 // about what rounding to 0.01 leaves (0.01/sqrt 12)
	maxScatter          = 0.5
)

// Errors is what the sheets and their readings may be off, as standard deviations. Zero
// stands for what was not stated.
type Errors struct {
	Reading  Density  // of one reading; 0: as the readings scatter
	Scatter  float64  // from sheet to sheet, as a fraction of the gradient; 0: the usual, corrected by what the sheets show
	Sessions *float64 // from session to session, as a fraction of the gradient; nil: the usual, corrected likewise where there are several

	// Own is what the person's own sessions tell of the scatter between them, in the usual one's place; nil: nothing.
	// Those that are evaluated here must not be among them.
	Own *OwnSessions
}

// Scatters is what the intervals went by.
type Scatters struct {
	Reading  Density `json:"reading_error"`
	Stated   bool    `json:"reading_stated"`         // else as the readings scatter
	Pictures Density `json:"picture_error,omitzero"` // that the pictures state of their densities; 0 where none does
	Sheets   float64 `json:"sheet_scatter"`
	Sessions float64 `json:"session_scatter"`
	Tests    int     `json:"sessions"` // evaluated here; with 1 they tell nothing of the scatter between them

	SessionsStated bool         `json:"session_scatter_stated"`
	Own            *OwnSessions `json:"own_sessions"` // what it goes by instead of the usual one; null where they are too few
}

func (e Errors) check() error {
	if !(e.Reading >= 0 && e.Reading <= maxReadingError) || !(e.Scatter >= 0 && e.Scatter <= maxScatter) {
		return fmt.Errorf("errors: reading error %g, scatter %g; expected 0 to %g, and 0 to %g of the gradient", float64(e.Reading), e.Scatter, maxReadingError, maxScatter)
	}
	if e.Sessions != nil && !(*e.Sessions >= 0 && *e.Sessions <= maxScatter) {
		return fmt.Errorf("errors: scatter from session to session %g; expected 0 to %g of the gradient", *e.Sessions, maxScatter)
	}
	return nil
}

// complete puts in the usual values, for what has no readings to tell them.
func (e *Errors) complete() error {
	e.Reading, e.Scatter = cmp.Or(e.Reading, defaultReadingError), cmp.Or(e.Scatter, usualScatter)
	return e.check()
}

// weighted is a value and how much it is believed.
type weighted struct{ value, weight float64 }

// spread is what may be believed of a scatter whose usual value is known: a normal
// distribution of its logarithm, in so many points.
func spread(usual float64) (list []weighted) {
	for z := -2.0; z <= 2; z += 0.5 {
		list = append(list, weighted{usual * math.Exp(usualSpread*z), math.Exp(-z * z / 2)})
	}
	return list
}

// sheets are what may be believed of the scatter from sheet to sheet.
func (e Errors) sheets() []weighted {
	if e.Scatter > 0 {
		return []weighted{{e.Scatter, 1}}
	}
	return spread(usualScatter)
}

// sessionsOf is what may be believed of the scatter between so many sessions: one alone
// tells nothing of it.
func (e Errors) sessionsOf(tests int) []weighted {
	switch {
	case e.Sessions != nil:
		return []weighted{{*e.Sessions, 1}}
	case e.Own != nil:
		return e.Own.believed
	case tests < 2:
		return []weighted{{usualSessions, 1}}
	}
	return spread(usualSessions)
}

// readingErrorOf is the error of one reading, estimated from how those of all curves
// scatter: of four neighbours that combination is taken in which a cubic vanishes (the third
// divided difference) at the scale at which its variance is that of one reading. Readings that
// look like slips are left out, and what is over four times the median counts as that: a
// slip or two do no harm. False with too few readings to tell, or too far apart: over more than
// 0.60 log H the curve's own bends look like errors.
func readingErrorOf(curves []Curve) (e Density, ok bool) {
	var off []float64
	for _, c := range curves {
		slips := c.Outliers(c.readingError())
		var kept []int
		for i := range c.Readings {
			if !slices.Contains(slips, i) {
				kept = append(kept, i)
			}
		}
		off = append(off, thirdDifferences(c.without(kept, -1))...)
	}
	if len(off) < minDifferences {
		return 0, false
	}
	slices.Sort(off)
	most := wildDifference * quantile(off, 0.5) / normalMedian
	sum := 0.0
	for _, d := range off {
		d = min(d, most)
		sum += d * d
	}
	return Density(math.Sqrt(sum / float64(len(off)))), true
}

const (
	minDifferences = 8 // readings with their neighbours
	wildDifference = 4
	normalMedian   = 0.6745 // of the size of a standard normal error
)

// thirdDifferences are the sizes of the third divided differences of neighbours, each
// at the scale of one reading.
func thirdDifferences(x, y []float64) (off []float64) {
	for i := 0; i+3 < len(x); i++ {
		if x[i+3]-x[i] > gammaOver+gammaSlack {
			continue
		}
		var d, norm float64
		for j := i; j < i+4; j++ {
			w := 1.0
			for m := i; m < i+4; m++ {
				if m != j {
					w /= x[j] - x[m]
				}
			}
			d += w * y[j]
			norm += w * w
		}
		off = append(off, math.Abs(d)/math.Sqrt(norm))
	}
	return off
}
