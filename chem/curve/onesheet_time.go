package curve

// What went wrong, from one negative: which time would have been right, once it is
// assumed how fast the gradient grows.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"
)

// growthUncertainty is by how much an assumed rate of growth may be wrong: two times in three
// within this factor either way (our own rule; the growth of films tested in one
// developer differs by about so much).
const growthUncertainty = 1.35

// HalfLimitRate is the rate at which a time gives half the limit of the gradient: what
// is assumed of a film of which nothing else is known (our own rule, as in Expect).
func HalfLimitRate(t time.Duration) PerMinute { return PerMinute(math.Ln2 / minutes(t)) }

// FromOneSheet is the time for a gradient from one sheet, with the rate of growth
// assumed. The interval, 90 %, carries the sheet's own scatter, what its readings
// leave open, and an assumed rate that may be wrong by a third; with sure it is
// believed as it is, for one that was fitted in a test of the same film. It errs
// for a gradient that the curve so assumed never reaches.
func FromOneSheet(s Sheet, k PerMinute, sure bool, gradient float64, e Errors) (Target, Growth, error) {
	if err := e.complete(0); err != nil {
		return Target{}, Growth{}, err
	}
	if !(s.Time > 0 && s.Gradient > 0 && k > 0 && gradient > 0) {
		return Target{}, Growth{}, fmt.Errorf("one sheet: time %v, gradient %.3g, growth %.3g a minute; expected above zero", s.Time, s.Gradient, float64(k))
	}
	through := func(g float64, k PerMinute) Growth {
		return Growth{Limit: g / -math.Expm1(-float64(k)*minutes(s.Time)), K: k}
	}
	growth := through(s.Gradient, k)
	t, err := growth.Time(gradient)
	if err != nil {
		return Target{}, growth, err
	}
	rng := rand.New(rand.NewPCG(1, bootstrapSeed))
	ofReadings := float64(e.Reading) * math.Sqrt2 / averagedOver // both ends of the average gradient
	spread := math.Hypot(e.Scatter*s.Gradient, ofReadings)
	refits := make([]Growth, defaultRounds)
	for i := range refits {
		moved := k
		if !sure {
			moved *= PerMinute(math.Pow(growthUncertainty, rng.NormFloat64()))
		}
		refits[i] = through(max(0.01, s.Gradient+spread*rng.NormFloat64()), moved)
	}
	target := Target{AverageGradient: gradient, Time: t.Seconds(), Confidence: confidence}
	target.Low, target.High = interval(refits, gradient)
	return target, growth, nil
}

// Sheets are the developing times with their average gradients, shortest first.
func (out Results) Sheets() []Sheet {
	list := slices.Clone(out.sheets)
	slices.SortFunc(list, func(a, b Sheet) int { return int(a.Time - b.Time) })
	return list
}
