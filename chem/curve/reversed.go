package curve

// Strips that were read from their other end.

import "slices"

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
	var x, y []float64
	for _, one := range c.Readings {
		x, y = append(x, float64(one.LogH)), append(y, float64(one.Density))
	}
	return FitLine(x, y).Slope*(x[len(x)-1]-x[0]) < -reversedFall
}

// TurnRound is the readings with one sheet's steps the other way round.
func (r Readings) TurnRound(k int) Readings {
	r.Sheets = slices.Clone(r.Sheets)
	r.Sheets[k].Steps = slices.Clone(r.Sheets[k].Steps)
	slices.Reverse(r.Sheets[k].Steps)
	return r
}
