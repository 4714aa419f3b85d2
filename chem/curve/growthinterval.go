package curve

// The interval of a time: what the readings' error and the scatter from sheet
// to sheet leave open.
//
// Method: a parametric bootstrap (B. Efron, Ann. Statist. 7 (1979) 1-26). For
// each sheet, a curve smoothed by the reading error is taken for the true one.
// In each round every reading of it, base plus fog too, is moved by a normal
// error, the curve is drawn again as the person's was, and the difference from
// the true curve's gradient is kept: error and bias of reading together. That
// difference, reversed, and a normal scatter in proportion to the gradient are
// added to the fitted growth curve, and the growth is fitted anew. The interval
// holds the middle 90 % of the times so found. Where the sheets lie further
// from the fitted curve than both errors explain (chi-square at 5 %), all
// differences are widened by the ratio, and that is said.
//
// TestIntervalsHoldTheTruth counts how often such intervals hold the truth.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	confidence          = 0.9
	defaultRounds       = 1000
	maxRounds           = 100000
	defaultReadingError = 0.02 // density, at home; two laboratories agree within 0.010
	defaultScatter      = 0.04 // of the gradient: 3 to 5 % is usual (common practice)
	misfitLevel         = 0.95
	bootstrapSeed       = 0x5eed0fc4a9ce
)

// Errors is what the sheets and their readings may be off, as standard
// deviations. Zero stands for the usual value.
type Errors struct {
	Reading Density // of one reading; 0: what was smoothed by, else 0.02
	Scatter float64 // from sheet to sheet, as a fraction of the gradient; 0: 0.04
}

// complete puts in the usual values.
func (e *Errors) complete(smoothed Density) error {
	if !(e.Reading >= 0 && e.Reading <= maxReadingError) || !(e.Scatter >= 0 && e.Scatter <= 0.5) {
		return fmt.Errorf("errors: reading error %g, scatter %g; expected 0 to %g, and 0 to 0.5 of the gradient", float64(e.Reading), e.Scatter, maxReadingError)
	}
	switch {
	case e.Reading == 0 && smoothed > 0:
		e.Reading = smoothed
	case e.Reading == 0:
		e.Reading = defaultReadingError
	}
	if e.Scatter == 0 {
		e.Scatter = defaultScatter
	}
	return nil
}

// bootstrap makes the refits.
type bootstrap struct {
	sheets  []Sheet
	drawn   []*fitResult // of the same sheets
	request Request
	growth  Growth
	widened float64 // by how much the departures were widened; 1: not
}

// run returns one growth curve for each round.
func (b *bootstrap) run() []Growth {
	rng := rand.New(rand.NewPCG(b.request.Seed, bootstrapSeed))
	departures := make([][]float64, len(b.sheets))
	for i, d := range b.drawn {
		departures[i] = b.departures(rng, d)
	}
	b.widened = b.widening(departures)
	f := newGrowthFitter(b.sheets)
	refits := make([]Growth, b.request.Rounds)
	for round := range refits {
		for i, s := range b.sheets {
			mean := b.growth.At(s.Time)
			off := b.request.Errors.Scatter * mean * rng.NormFloat64()
			if n := len(departures[i]); n > 0 {
				off += departures[i][round%n]
			}
			f.g[i] = mean + b.widened*off
		}
		refits[round], _ = f.fit(b.request.Induction)
	}
	return refits
}

// departures moves the readings of one curve, round by round, and returns by
// how much the true gradient exceeds what is then read off. Rounds in which
// the curve ends too early are left out.
func (b *bootstrap) departures(rng *rand.Rand, d *fitResult) (out []float64) {
	e := float64(b.request.Errors.Reading)
	c := d.smoothed(b.request.Errors.Reading)
	base := d.traits.base
	if d.statedBase == nil {
		base = c.MinDensity()
	}
	truth := c.traits(base)
	p := NewInterpolant(c.x, append([]float64{}, c.y...))
	moved := make([]float64, len(c.y))
	mean := 0.0
	for range b.request.Rounds {
		for i, y := range c.y {
			moved[i] = y + e*rng.NormFloat64()
		}
		if t := d.refit(p, moved, base+e*rng.NormFloat64()); t.hasGradient {
			out = append(out, t.gradient())
			mean += t.gradient()
		}
	}
	mean /= float64(max(1, len(out)))
	if truth.hasGradient {
		mean = truth.gradient()
	}
	for i := range out {
		out[i] = mean - out[i]
	}
	return out
}

// widening is how many times the stated errors the sheets scatter; 1 where
// chance explains it.
func (b *bootstrap) widening(departures [][]float64) float64 {
	parameters := 2
	if b.request.Induction {
		parameters = 3
	}
	free := len(b.sheets) - parameters
	if free < 1 {
		return 1
	}
	chi2 := 0.0
	for i, s := range b.sheets {
		mean := b.growth.At(s.Time)
		variance := b.request.Errors.Scatter * b.request.Errors.Scatter * mean * mean
		for _, d := range departures[i] {
			variance += d * d / float64(len(departures[i]))
		}
		chi2 += (s.Gradient - mean) * (s.Gradient - mean) / variance
	}
	if chi2 <= (distuv.ChiSquared{K: float64(free)}).Quantile(misfitLevel) {
		return 1
	}
	return math.Sqrt(chi2 / float64(free))
}

// interval is the middle 90 % of the times for a gradient, in seconds; an end
// is nil where it has none, since some refits never reach the gradient.
func interval(refits []Growth, gradient float64) (low, high *float64) {
	times := make([]float64, len(refits))
	for i, g := range refits {
		times[i] = math.Inf(1)
		if t, err := g.Time(gradient); err == nil {
			times[i] = t.Seconds()
		}
	}
	slices.Sort(times)
	end := func(p float64) *float64 {
		if v := quantile(times, p); !math.IsInf(v, 0) && !math.IsNaN(v) {
			return &v
		}
		return nil
	}
	return end((1 - confidence) / 2), end((1 + confidence) / 2)
}

// quantile of sorted values, linear between them.
func quantile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := p * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) || sorted[i] == sorted[i+1] {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
