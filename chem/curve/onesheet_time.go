package curve

// What went wrong, from one negative: which time would have been right, once it is
// assumed how fast the gradient grows.

import (
	"fmt"
	"math"
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

// FromOneSheet is the time for a gradient from one sheet, with the rate of growth and the
// time of induction assumed. The interval, 90 %, carries the sheet's own scatter, what its
// readings leave open, the scatter from session to session, and an assumed rate that may be
// wrong by a third; with sure it is believed as it is, for one that was fitted in a test of the
// same film. It errs for a gradient that the curve so assumed never reaches, and for a sheet
// that came out before the induction was over.
func FromOneSheet(s Sheet, assumed Growth, sure bool, gradient float64, e Errors) (Target, Growth, error) {
	if err := e.complete(); err != nil {
		return Target{}, Growth{}, err
	}
	k, developed := float64(assumed.K), minutes(s.Time)-float64(assumed.Induction)
	if !(s.Time > 0 && s.Gradient > 0 && k > 0 && gradient > 0 && assumed.Induction >= 0) {
		return Target{}, Growth{}, fmt.Errorf("one sheet: time %v, gradient %.3g, growth %.3g a minute; expected above zero", s.Time, s.Gradient, k)
	}
	if !(developed > 0) {
		return Target{}, Growth{}, fmt.Errorf("one sheet: time %v, and %.3g min of induction; expected a longer time", s.Time, float64(assumed.Induction))
	}
	growth := Growth{Limit: s.Gradient / grown(k, developed), K: assumed.K, Induction: assumed.Induction}
	t, err := growth.Time(gradient)
	if err != nil {
		return Target{}, growth, err
	}
	p := growthPrior{k: k, kSpread: math.Log(growthUncertainty), inductions: []weighted{{float64(assumed.Induction), 1}}}
	if sure {
		p.kSpread = 0
	}
	ofReadings := float64(e.Reading) * math.Sqrt2 / averagedOver // both ends of the average gradient
	one := []measuredSheet{{minutes: minutes(s.Time), gradient: s.Gradient, reading: ofReadings}}
	b := believe(one, func(float64) float64 { return s.Gradient }, p, []weighted{{e.Scatter, 1}}, e.sessionsOf(1))
	target := Target{AverageGradient: gradient, Time: t.Seconds(), Confidence: confidence}
	target.Low, target.High = b.time(gradient, true)
	target.OwnLow, target.OwnHigh = b.time(gradient, false)
	return target, growth, nil
}

// Sheets are the developing times with their average gradients, shortest first.
func (out Results) Sheets() []Sheet {
	list := slices.Clone(out.sheets)
	slices.SortFunc(list, func(a, b Sheet) int { return int(a.Time - b.Time) })
	return list
}
