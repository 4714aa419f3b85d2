package curve

// What one curve leaves open: intervals of its speed point, gradients and index, and by how
// much reading errors alone raise or lower what is read off.
//
// Method: a parametric bootstrap (B. Efron, Ann. Statist. 7 (1979) 1-26). A curve smoothed by
// the reading error is taken for the true one. In each round every reading of it, base plus
// fog too, is moved by a normal error, and the curve drawn again as the person's was. What
// is then read off differs from the true curve's. The mean of those differences is the bias,
// which is taken off gamma: errors make some stretch steeper than
// it is, and the steepest is looked for. The differences, reversed, lie round the value that is
// stated: the middle 90 % of them are the interval. For that a normal scatter from
// sheet to sheet moves all densities over base plus fog too: where the film's own value lies, not
// this one sheet's.
//
// The speed point stands in the toe, where a curve that errs in density by as much either way comes to
// 0.10 much further before than behind: reversed, that would put the longer end of its interval on the wrong
// side. So it goes by densities: what the rounds read over base plus fog where the true curve has 0.10 is off
// nearly evenly, and the interval is where the stated curve comes to such densities (E. C. Fieller, J. R. Statist.
// Soc. B 16 (1954) 175-185, from memory).

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Interval is where a value lies, with 90 % confidence.
type Interval struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Intervals are those of one curve; nil where the value itself is nil, or too few
// rounds reach it. The speed point's ends with the readings at the latest.
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
	defaultRounds    = 300 // more tell an interval no better
	maxRounds        = 10000
	minRoundsPercent = 50 // of a hundred rounds that must reach a value
	bootstrapSeed    = 0x5eed0fc4a9ce
)

// By how much the rounds' own intervals are too narrow (our own rule, by the simulations of
// TestValuesOfOneSheet): the curve that is taken for the true one is smooth, the error is
// estimated, and where the straight part lies is known better than of a film.
const (
	valuesWider = 1.15
	gammaWider  = 1.3
)

// bootstrapValues gathers what is read off in each round.
type bootstrapValues struct {
	speedPoint, gradient, index, gamma []float64
	over                               []float64 // by how much the density at the true curve's speed point is over 0.10
}

// bootstrap is the rounds of one curve.
type bootstrap struct {
	fit      *fitResult
	true     *Interpolant
	straight []float64 // densities of the curve taken for the true one by gamma: the full penalty leaves no waves
	base     float64
	truth    bootstrapValues // of the curves taken for the true ones: one of each, or none
	rounds   int
	seed     uint64
}

// bootstrap prepares the rounds for a reading error.
func (d *fitResult) bootstrap(reading Density, rounds int, seed uint64) *bootstrap {
	b := &bootstrap{fit: d, true: d.smoothed(reading), base: d.traits.base, rounds: rounds, seed: seed}
	if d.statedBase == nil {
		b.base = b.true.MinDensity()
	}
	t := b.true.traits(b.base)
	b.truth.add(t)
	b.truth.addIndex(b.true, t)
	b.straight = d.straightened(reading)
	if p, ok := d.straightPart(d.readings); ok {
		p.straighten(b.true.x, b.straight)
		b.truth.gamma = append(b.truth.gamma, p.Slope)
	}
	return b
}

// run makes the rounds, with errors of reading and a scatter from sheet to sheet.
func (b *bootstrap) run(reading Density, scatter float64, index bool) (seen bootstrapValues) {
	rng := rand.New(rand.NewPCG(b.seed, bootstrapSeed))
	p := NewInterpolant(b.true.x, slices.Clone(b.true.y))
	moved, steep := make([]float64, len(p.y)), make([]float64, len(p.y))
	e, ofBase := float64(reading), cmp.Or(b.fit.baseErr, float64(reading))
	for _, k := range rng.Perm(b.rounds) {
		more := 1 + scatter*distuv.UnitNormal.Quantile((float64(k)+0.5)/float64(b.rounds)) // spread evenly over the normal distribution
		for i, y := range b.true.y {
			off := e * b.fit.deviation(i) * rng.NormFloat64()
			moved[i] = b.base + more*(y-b.base) + off
			steep[i] = b.base + more*(b.straight[i]-b.base) + off
		}
		t := b.fit.refit(p, moved, b.base+ofBase*rng.NormFloat64())
		seen.add(t)
		if index {
			seen.addIndex(p, t)
			seen.addOver(p, t, b.truth)
		}
		if p, ok := b.fit.straightPart(steep); ok {
			seen.gamma = append(seen.gamma, p.Slope)
		}
	}
	return seen
}

// add adds what a curve says, contrast index and gamma apart.
func (s *bootstrapValues) add(t curveTraits) {
	if t.hasSpeedPoint {
		s.speedPoint = append(s.speedPoint, t.speedPoint)
	}
	if t.hasGradient {
		s.gradient = append(s.gradient, t.gradient())
	}
}

// addIndex adds its contrast index.
func (s *bootstrapValues) addIndex(p *Interpolant, t curveTraits) {
	if i, ok := p.contrastIndex(t.base); ok {
		s.index = append(s.index, i)
	}
}

// addOver adds what it reads where the true curve has its speed point.
func (s *bootstrapValues) addOver(p *Interpolant, t curveTraits, truth bootstrapValues) {
	for _, x := range truth.speedPoint {
		d, _ := p.At(LogH(x))
		s.over = append(s.over, float64(d)-t.base-speedOverBase)
	}
}

// bias is by how much errors raise a value on the average; 0 where that cannot be told.
func (b *bootstrap) bias(truth, seen []float64) float64 {
	if len(truth) == 0 || len(seen)*100 < b.rounds*minRoundsPercent {
		return 0
	}
	sum := 0.0
	for _, v := range seen {
		sum += v - truth[0]
	}
	return sum / float64(len(seen))
}

// deviation is how far readings put the gradient from the true one, as the standard deviation of the
// normal distribution whose middle nine tenths are as wide as those of the rounds: a round in which a wave of
// the toe moves the speed point far away is rare, and would make the root of the mean square a third too
// great. As both ends of the gradient would be read where too few rounds tell.
func (b *bootstrap) deviation(seen bootstrapValues, reading Density) float64 {
	if len(b.truth.gradient) == 0 || len(seen.gradient) < leastRounds {
		return float64(reading) * math.Sqrt2 / averagedOver
	}
	slices.Sort(seen.gradient)
	wide := quantile(seen.gradient, (1+confidence)/2) - quantile(seen.gradient, (1-confidence)/2)
	return wide / (2 * distuv.UnitNormal.Quantile((1+confidence)/2))
}

const leastRounds = 10 // that tell their middle nine tenths

// intervals are those round the stated values of r.
func (b *bootstrap) intervals(r Result, seen bootstrapValues) *Intervals {
	return &Intervals{
		SpeedPoint:      b.speedPoint(r, seen.over),
		AverageGradient: b.interval(r.AverageGradient, b.truth.gradient, seen.gradient, 0, valuesWider),
		ContrastIndex:   b.interval(r.ContrastIndex, b.truth.index, seen.index, 0, valuesWider),
		Gamma:           b.interval(r.Gamma, b.truth.gamma, seen.gamma, r.gammaBias, gammaWider),
		Confidence:      confidence,
	}
}

// interval is the interval round a stated value, from which a bias was taken, so many times as wide
// as the rounds make it.
func (b *bootstrap) interval(stated *float64, truth, seen []float64, bias, wider float64) *Interval {
	if stated == nil || len(truth) == 0 || len(seen)*100 < b.rounds*minRoundsPercent {
		return nil
	}
	slices.Sort(seen)
	low, high := quantile(seen, (1-confidence)/2), quantile(seen, (1+confidence)/2)
	return &Interval{*stated + wider*(bias+truth[0]-high), *stated + wider*(bias+truth[0]-low)}
}

// speedPoint is the interval of the speed point: from where the stated curve comes to the least density
// that the true one's may be read as, to where it comes to the greatest. Smoothing is all but linear, so
// those are off normally as readings are. An end that lies beyond the readings is theirs.
func (b *bootstrap) speedPoint(r Result, over []float64) *Interval {
	if r.SpeedPoint == nil || len(over) < leastRounds {
		return nil
	}
	mean, sd := stat.PopMeanStdDev(over, nil)
	sd *= valuesWider * distuv.UnitNormal.Quantile((1+confidence)/2)
	level := float64(r.BaseFog) + speedOverBase + mean
	return &Interval{r.Curve.reaches(level - sd), r.Curve.reaches(level + sd)}
}

// reaches is where the curve first comes to a level, or the end of the readings towards it.
func (p *Interpolant) reaches(level float64) float64 {
	x, ok := p.crossing(level)
	switch {
	case ok:
		return x
	case p.y[0] > level:
		return p.x[0]
	}
	return p.x[len(p.x)-1]
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
