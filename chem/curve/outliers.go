package curve

// Readings that look like slips of the hand: far from the curve that all the
// others draw, or well below one at less exposure; and strips that were read from
// their other end.

import (
	"math"
	"slices"
)

const (
	outlierLimit    = 4   // reading errors: between two neighbours one reading in thousands lies so far off
	maxOutlierShare = 4   // one reading in so many: where more do not fit, it is not slips
	widestBend      = 0.5 // log H between its neighbours: further apart they do not tell how a curve bends
	endOutlierLimit = 4.5 // at an end, where a slip of the neighbour looks the same
)

// Outliers are the indices of readings that do not fit the rest, the farthest off
// first. Each is measured against the curve smoothed through all the others; the
// farthest is put aside, and the rest looked at anew, so that a slip does not make
// its neighbours look like slips. At the two ends, where no curve can be drawn
// without the reading, only a fall counts. With five readings or fewer nothing is
// judged, and never more than a quarter of them. The limits, four reading errors and
// four and a half, are our own rule.
func (c Curve) Outliers(e Density) []int {
	kept := make([]int, len(c.Readings))
	for i := range kept {
		kept[i] = i
	}
	var found []int
	for len(kept) > minSmoothed && len(found) < len(c.Readings)/maxOutlierShare {
		worst, most := -1, 1.0
		bending := c.penalty(kept, e)
		for k := range kept {
			if off := c.distance(kept, k, float64(e), bending); off > most {
				worst, most = k, off
			}
		}
		if worst < 0 {
			break
		}
		found = append(found, kept[worst])
		kept = append(kept[:worst:worst], kept[worst+1:]...)
	}
	return found
}

// penalty is the penalty of bending that all the readings kept ask for; 0 where there
// are too many to smooth.
func (c Curve) penalty(kept []int, e Density) float64 {
	x, y := c.without(kept, -1)
	s := (&fitResult{readings: y}).smootherFor(x, e, penaltyShare)
	if s == nil {
		return 0
	}
	return s.lambda
}

// without is the readings kept but one.
func (c Curve) without(kept []int, k int) (x, y []float64) {
	for j, i := range kept {
		if j != k {
			x, y = append(x, float64(c.Readings[i].LogH)), append(y, float64(c.Readings[i].Density))
		}
	}
	return x, y
}

// distance is how far reading kept[k] is from the others, in the limit allowed.
func (c Curve) distance(kept []int, k int, e, bending float64) float64 {
	x, y := c.without(kept, k)
	r := c.Readings[kept[k]]
	if c.Errors != nil {
		e = max(e, float64(c.Errors[kept[k]]))
	}
	if k == 0 || k == len(kept)-1 {
		off := endDistance(y, float64(r.Density), k == 0)
		if c.Base != nil { // nothing is less than base plus fog
			off = max(off, float64(*c.Base-r.Density))
		}
		return off / (endOutlierLimit * e)
	}
	if x[k]-x[k-1] > widestBend {
		return max(y[k-1]-float64(r.Density), float64(r.Density)-y[k], 0) / (outlierLimit * e)
	}
	if bending == 0 {
		return 0
	}
	s := newSmoother(x)
	s.penalise(bending)
	smooth := make([]float64, len(y))
	s.monotone(y, smooth)
	d, _ := NewInterpolant(x, smooth).At(r.LogH)
	return math.Abs(float64(r.Density-d)) / (outlierLimit * e)
}

// endDistance is by how much a reading at the end lies on the wrong side of the one next
// to it.
func endDistance(others []float64, d float64, first bool) float64 {
	if first {
		return d - others[0]
	}
	return others[len(others)-1] - d
}

// The bounds of an error that is estimated from the readings themselves: a finer one must
// be stated, and beyond the other it is not reading (our own rule).
const (
	finestReading   = 0.01
	coarsestReading = 0.05
)

// readingError is the error of one reading that slips are measured in: from the median of the
// third differences, which is no worse for a few slips.
func (c Curve) readingError() Density {
	x, y := c.columns()
	off := thirdDifferences(x, y)
	if len(off) < 3 {
		return defaultReadingError
	}
	slices.Sort(off)
	return Density(min(max(quantile(off, 0.5)/normalMedian, finestReading), coarsestReading))
}

// Suspect is a reading that does not fit its neighbours: a sheet by its developing time,
// and the step in the order of the file, from 1.
type Suspect struct {
	Time *float64 `json:"time_s"`
	Step int      `json:"step"`
}

// suspects are the curve's, for a stated reading error; 0: as the readings scatter.
func (c Curve) suspects(e Density) (list []Suspect) {
	if e == 0 {
		e = c.readingError()
	}
	for _, i := range c.Outliers(e) {
		s := Suspect{Step: c.Step(i)}
		if c.Time > 0 {
			s.Time = new(c.Time.Seconds())
		}
		list = append(list, s)
	}
	return list
}

const (
	tellingReadings = 4   // fewer do not tell which way a strip runs
	reversedFall    = 0.3 // density over the whole strip (our own rule)
)

// Reversed reports whether a sheet's densities fall with exposure, by and large: it was read
// from its other end.
func (r *Readings) Reversed(k int) bool {
	c, ok := r.Curve(k)
	if !ok || len(c.Readings) < tellingReadings {
		return false
	}
	x, y := c.columns()
	return FitLine(x, y).Slope*(x[len(x)-1]-x[0]) < -reversedFall
}

// TurnRound is the readings with one sheet's steps the other way round.
func (r Readings) TurnRound(k int) Readings {
	r.Sheets = slices.Clone(r.Sheets)
	r.Sheets[k].Steps = slices.Clone(r.Sheets[k].Steps)
	slices.Reverse(r.Sheets[k].Steps)
	if r.Sheets[k].Errors != nil {
		r.Sheets[k].Errors = slices.Clone(r.Sheets[k].Errors)
		slices.Reverse(r.Sheets[k].Errors[1:])
	}
	return r
}
