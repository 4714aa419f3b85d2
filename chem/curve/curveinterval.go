package curve

// What one curve leaves open: intervals of its speed point, gradients and index.
//
// Method: the parametric bootstrap of interval.go, for one sheet. In each round the
// curve taken for the true one, its densities over base plus fog made more or less by
// a normal scatter from sheet to sheet, is read with normal errors and drawn as the
// person's was. What is then read off differs from the true curve's; those
// differences, reversed, lie round the value that is stated. The middle 90 % of them
// are the interval: where the film's own value lies, not this one sheet's.

import (
	"math/rand/v2"
	"slices"
)

// Interval is where a value lies, with 90 % confidence.
type Interval struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Intervals are those of one curve; nil where the value itself is nil, or too few
// rounds reach it.
type Intervals struct {
	SpeedPoint      *Interval `json:"speed_point_log_h"`
	AverageGradient *Interval `json:"average_gradient"`
	ContrastIndex   *Interval `json:"contrast_index"`
	Gamma           *Interval `json:"gamma"`
	Confidence      float64   `json:"confidence"`
}

// GrowthIntervals are those of the growth curve.
type GrowthIntervals struct {
	Limit      Interval `json:"gamma_infinity"`
	K          Interval `json:"k_per_min"`
	Induction  Interval `json:"induction_min"`
	Confidence float64  `json:"confidence"`
}

const (
	maxCurveRounds   = 300 // rounds: more tell an interval no better
	minRoundsPercent = 50  // of a hundred rounds that must reach a value
)

// bootstrapValues gathers what is read off in each round.
type bootstrapValues struct{ speedPoint, gradient, index, gamma []float64 }

// intervals makes them for one curve and its result.
func (d *fitResult) intervals(r Result, q Request) *Intervals {
	c := d.smoothed(q.Errors.Reading)
	base := d.traits.base
	if d.statedBase == nil {
		base = c.MinDensity()
	}
	var truth, seen bootstrapValues
	truth.add(c, c.traits(base))
	rounds := min(q.Rounds, maxCurveRounds)
	rng := rand.New(rand.NewPCG(q.Seed, bootstrapSeed+1))
	p := NewInterpolant(c.x, slices.Clone(c.y))
	moved := make([]float64, len(c.y))
	e := float64(q.Errors.Reading)
	for range rounds {
		more := 1 + q.Errors.Scatter*rng.NormFloat64()
		for i, y := range c.y {
			moved[i] = base + more*(y-base) + e*rng.NormFloat64()
		}
		seen.add(p, d.refit(p, moved, base+e*rng.NormFloat64()))
	}
	out := &Intervals{Confidence: confidence}
	out.SpeedPoint = basicInterval(toFloats(r.SpeedPoint), truth.speedPoint, seen.speedPoint, rounds)
	out.AverageGradient = basicInterval(r.AverageGradient, truth.gradient, seen.gradient, rounds)
	out.ContrastIndex = basicInterval(r.ContrastIndex, truth.index, seen.index, rounds)
	out.Gamma = basicInterval(r.Gamma, truth.gamma, seen.gamma, rounds)
	return out
}

// add adds what a curve says.
func (s *bootstrapValues) add(p *Interpolant, t curveTraits) {
	if t.hasSpeedPoint {
		s.speedPoint = append(s.speedPoint, t.speedPoint)
	}
	if t.hasGradient {
		s.gradient = append(s.gradient, t.gradient())
	}
	if i, ok := p.contrastIndex(t.base); ok {
		s.index = append(s.index, i)
	}
	if g, ok := gamma(p.x, p.y); ok {
		s.gamma = append(s.gamma, g)
	}
}

func toFloats(h *LogH) *float64 {
	if h == nil {
		return nil
	}
	v := float64(*h)
	return &v
}

// basicInterval is the interval round a stated value.
func basicInterval(stated *float64, truth, seen []float64, rounds int) *Interval {
	if stated == nil || len(truth) == 0 || len(seen)*100 < rounds*minRoundsPercent {
		return nil
	}
	slices.Sort(seen)
	low, high := quantile(seen, (1-confidence)/2), quantile(seen, (1+confidence)/2)
	return &Interval{*stated + truth[0] - high, *stated + truth[0] - low}
}

// growthIntervals are the middle 90 % of what the refits found.
func growthIntervals(refits []Growth) *GrowthIntervals {
	middle := func(of func(Growth) float64) Interval {
		list := make([]float64, len(refits))
		for i, g := range refits {
			list[i] = of(g)
		}
		slices.Sort(list)
		return Interval{quantile(list, (1-confidence)/2), quantile(list, (1+confidence)/2)}
	}
	return &GrowthIntervals{
		Limit:      middle(func(g Growth) float64 { return g.Limit }),
		K:          middle(func(g Growth) float64 { return float64(g.K) }),
		Induction:  middle(func(g Growth) float64 { return float64(g.Induction) }),
		Confidence: confidence,
	}
}
