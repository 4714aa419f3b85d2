package response

// What goes in: the readings of one test.

import (
	"cmp"
	"fmt"
	"math"
	"time"
)

// Sheet is one sheet of a test.
type Sheet struct {
	Time    time.Duration // developing time
	Session int           // sheets of one number were developed in one session
	LogH    []float64     // log exposure of each reading, rising
	Density []float64
	Error   []float64 // standard error of each reading; nil: Options.ReadingError
	Base    *float64  // base plus fog, read where nothing was exposed; nil: not read
}

// Options say what is known besides the readings. Zero values are the defaults.
type Options struct {
	ReadingError   float64 // standard error of a reading; 0: estimated
	SheetScatter   float64 // from sheet to sheet of one session, as a fraction of the gradient; 0: 0.03
	SessionScatter float64 // from session to session; 0: 0.05
	Induction      bool    // fit a time of induction too
}

// The defaults (common practice, no source): how much the gradient differs from sheet to sheet and from
// session to session where nothing is done differently.
const (
	DefaultSheetScatter   = 0.03
	DefaultSessionScatter = 0.05
)

// What a test must have.
const (
	leastSheets   = 2
	leastReadings = 5
)

func (o Options) filled() Options {
	o.SheetScatter = cmp.Or(o.SheetScatter, DefaultSheetScatter)
	o.SessionScatter = cmp.Or(o.SessionScatter, DefaultSessionScatter)
	return o
}

// check refuses sheets that no surface can be fitted to.
func check(sheets []Sheet) error {
	times := map[time.Duration]bool{}
	for i, s := range sheets {
		if s.Time <= 0 {
			return fmt.Errorf("sheet %d: developing time %v; expected above zero", i+1, s.Time)
		}
		if err := s.check(); err != nil {
			return fmt.Errorf("sheet %d: %w", i+1, err)
		}
		times[s.Time] = true
	}
	if len(times) < leastSheets {
		return fmt.Errorf("%d developing times; expected at least %d that differ", len(times), leastSheets)
	}
	return nil
}

func (s Sheet) check() error {
	finite := func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
	if len(s.LogH) != len(s.Density) || s.Error != nil && len(s.Error) != len(s.LogH) || len(s.LogH) < leastReadings {
		return fmt.Errorf("%d readings; expected at least %d, each with its exposure", len(s.Density), leastReadings)
	}
	for j, h := range s.LogH {
		if !finite(h) || !finite(s.Density[j]) || j > 0 && !(h > s.LogH[j-1]) {
			return fmt.Errorf("reading %d; expected numbers, exposures rising", j+1)
		}
	}
	if s.Base != nil && !finite(*s.Base) {
		return fmt.Errorf("base plus fog %g; expected a number", *s.Base)
	}
	return nil
}
