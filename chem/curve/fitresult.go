package curve

// One curve drawn: smoothed if asked, its base plus fog settled, its traits
// read off. The bootstrap draws it again with other readings.

import (
	"fmt"
	"slices"
)

const (
	maxGap        = 0.60 // log H between readings that goes without a note
	maxBaseExcess = 0.10 // density of base plus fog over the least reading, the same
)

// fitResult is a curve, and what it takes to draw it again.
type fitResult struct {
	curve      *Interpolant
	smoother   *smoother // nil where every reading is kept
	straight   *smoother // for gamma: with the full penalty; nil likewise
	readings   []float64
	e, penalty float64   // the penalty that the readings ask for at an error e; 0 until it is looked for
	statedBase *Density  // base plus fog; nil: the least density
	variances  []float64 // of each reading, of the usual one's; nil: all alike
	baseErr    float64   // standard error of base plus fog; 0: as a reading's
	traits     curveTraits
}

// fitCurve draws a curve, smoothed where e is above zero. It errs where too few or too
// many readings are to be smoothed.
func fitCurve(c Curve, e Density) (*fitResult, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	x, y := c.columns()
	d := &fitResult{readings: y, statedBase: c.Base, variances: c.variances(e), baseErr: float64(c.BaseErr)}
	shown := append([]float64{}, y...)
	if e > 0 {
		if !smoothable(len(x)) {
			return nil, fmt.Errorf("smoothing: %d readings; expected %d to %d", len(x), minSmoothed, maxSmoothed)
		}
		d.smoother, d.straight = d.smootherFor(x, e, penaltyShare), d.smootherFor(x, e, straightShare)
		d.smoother.monotone(y, shown)
	}
	d.curve = NewInterpolant(x, shown)
	base := d.curve.MinDensity()
	if c.Base != nil {
		base = float64(*c.Base)
	}
	d.traits = d.curve.traits(base)
	return d, nil
}

// Interpolant is the curve through every reading, for a picture; nil where it cannot be
// drawn.
func (c Curve) Interpolant() *Interpolant {
	if c.check() != nil {
		return nil
	}
	return NewInterpolant(c.columns())
}

// refit draws the curve over other readings and another stated base plus fog
// into p, and returns its traits.
func (d *fitResult) refit(p *Interpolant, readings []float64, base float64) curveTraits {
	if d.smoother == nil {
		copy(p.y, readings)
	} else {
		d.smoother.monotone(readings, p.y)
	}
	p.setSlopes()
	if d.statedBase == nil {
		base = p.MinDensity()
	}
	return p.traits(base)
}

// smootherFor is a smoother for the readings, of the error e, with a share of the
// penalty that they ask for; nil where there is nothing to smooth.
func (d *fitResult) smootherFor(x []float64, e Density, share float64) *smoother {
	if !(e > 0) || !smoothable(len(x)) {
		return nil
	}
	s := newSmoother(x)
	if d.variances != nil {
		s.v = d.variances
	}
	if d.e != float64(e) {
		s.choose(d.readings, e)
		d.e, d.penalty = float64(e), s.lambda
	}
	s.penalise(share * d.penalty)
	return s
}

// smoothed is the curve that the bootstrap takes for the true one: the readings
// smoothed by their error, so that it does not count their noise twice.
func (d *fitResult) smoothed(e Density) *Interpolant {
	y := slices.Clone(d.readings)
	if s := d.smootherFor(d.curve.x, e, penaltyShare); s != nil {
		s.monotone(d.readings, y)
	}
	return NewInterpolant(d.curve.x, y)
}

// straightened is the densities of the readings smoothed with the full penalty.
func (d *fitResult) straightened(e Density) []float64 {
	y := slices.Clone(d.readings)
	if s := d.smootherFor(d.curve.x, e, 1); s != nil {
		s.smooth(d.readings, y)
	}
	return y
}

func smoothable(readings int) bool { return readings >= minSmoothed && readings <= maxSmoothed }

// MinDensity is the least density of the curve.
func (p *Interpolant) MinDensity() float64 { return slices.Min(p.y) }

// result is what the curve says, speeds apart.
func (d *fitResult) result(c Curve) Result {
	t := d.traits
	r := Result{BaseFog: Density(t.base), DensityRange: Density(d.curve.MaxDensity() - t.base), Curve: d.curve}
	if c.Time > 0 {
		r.Time = new(c.Time.Seconds())
	}
	if t.hasSpeedPoint {
		r.SpeedPoint = new(LogH(t.speedPoint))
	}
	if t.hasGradient {
		rise := Density(t.rise)
		r.DensityRise, r.AverageGradient = &rise, new(t.gradient())
		r.ISOValid = rise >= validRise-validWithin-Tolerance && rise <= validRise+validWithin+Tolerance
	}
	if i, ok := d.curve.contrastIndex(t.base); ok {
		r.ContrastIndex = &i
	}
	if p, ok := d.straightPart(d.readings); ok {
		r.Gamma = &p.Slope
	}
	return r
}

// notes is what a person should know of the curve.
func (d *fitResult) notes(label string) (notes []string) {
	note := func(format string, args ...any) {
		notes = append(notes, label+": "+fmt.Sprintf(format, args...))
	}
	p, t := d.curve, d.traits
	switch {
	case d.statedBase == nil:
		note("no base plus fog given; the least density, %.2f, is taken", t.base)
	case t.base > p.MinDensity()+maxBaseExcess:
		note("base plus fog is given as %.2f, the least reading is %.2f", t.base, p.MinDensity())
	}
	switch {
	case !t.hasSpeedPoint && p.y[0] > t.base+speedOverBase:
		note("the readings begin above the speed point, so there is no speed and no average gradient; read steps of less exposure")
	case !t.hasSpeedPoint:
		note("the readings end below the speed point, so there is no speed and no average gradient; read steps of more exposure")
	case !t.hasGradient:
		note("the readings end less than %.2f log H from the speed point, so there is no average gradient; read steps of more exposure", averagedOver)
	}
	if t.hasSpeedPoint && p.crossings(t.base+speedOverBase) > 1 {
		note("density comes to 0.10 over base plus fog more than once, and the first time is taken; smooth by the reading error")
	}
	for i := 0; i+1 < len(p.x); i++ {
		if gap := p.x[i+1] - p.x[i]; gap > maxGap+Tolerance {
			note("no reading between log H %.2f and %.2f", p.x[i], p.x[i+1])
		}
	}
	return notes
}
