package engine

// What the developer is reckoned to be at: a sensor's first reading is measured by it.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// Reckoned is the temperature at a moment, as planned and as read, of the first bath that works
// by temperature, and its recipe's range (nil where that gives none); false where no bath does.
func (s State) Reckoned(now sequence.Elapsed) (t chem.Celsius, within []chem.Celsius, ok bool) {
	for i := range s.plan.Steps {
		if w := s.plan.Steps[i].TimeByTemperature; w != nil {
			return s.course(i).At(now), w.Range, true
		}
	}
	return 0, nil, false
}
