package curve

// One curve drawn: smoothed if asked, its base plus fog settled, its traits
// read off. The bootstrap draws it again with other readings.

import "fmt"

const (
	widestGap = 0.60 // log H between readings that goes without a note
	baseAbove = 0.10 // density of base plus fog over the least reading, the same
)

// drawing is a curve, and what it takes to draw it again.
type drawing struct {
	curve    *Interpolant
	smoother *smoother // nil where every reading is kept
	readings []float64
	stated   *Density // base plus fog; nil: the least density
	traits   traits
}

// draw draws a curve, smoothed where e is above zero.
func draw(c Curve, e Density) (*drawing, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	x, y := c.columns()
	d := &drawing{readings: y, stated: c.Base}
	shown := append([]float64{}, y...)
	if e > 0 {
		if !smoothable(len(x)) {
			return nil, fmt.Errorf("smoothing: %d readings; expected %d to %d", len(x), leastSmoothed, mostSmoothed)
		}
		d.smoother = newSmoother(x)
		d.smoother.choose(y, e)
		d.smoother.monotone(y, shown)
	}
	d.curve = newInterpolant(x, shown)
	base := d.curve.least()
	if c.Base != nil {
		base = float64(*c.Base)
	}
	d.traits = d.curve.traits(base)
	return d, nil
}

// Drawn is the curve through every reading, for a picture; nil where it cannot be
// drawn.
func (c Curve) Drawn() *Interpolant {
	if c.check() != nil {
		return nil
	}
	return newInterpolant(c.columns())
}

// again draws the curve over other readings and another stated base plus fog
// into p, and returns its traits.
func (d *drawing) again(p *Interpolant, readings []float64, base float64) traits {
	if d.smoother == nil {
		copy(p.y, readings)
	} else {
		d.smoother.monotone(readings, p.y)
	}
	p.draw()
	if d.stated == nil {
		base = p.least()
	}
	return p.traits(base)
}

// centre is the curve that the bootstrap takes for the true one: the readings
// smoothed by their error, so that it does not count their noise twice.
func (d *drawing) centre(e Density) *Interpolant {
	if !smoothable(len(d.readings)) {
		return d.curve
	}
	s := newSmoother(d.curve.x)
	s.choose(d.readings, e)
	y := make([]float64, len(d.readings))
	s.monotone(d.readings, y)
	return newInterpolant(d.curve.x, y)
}

func smoothable(readings int) bool { return readings >= leastSmoothed && readings <= mostSmoothed }

// least is the least density of the curve.
func (p *Interpolant) least() float64 {
	least := p.y[0]
	for _, y := range p.y {
		least = min(least, y)
	}
	return least
}

// result is what the curve says, speeds apart.
func (d *drawing) result(c Curve) Result {
	t := d.traits
	r := Result{BaseFog: Density(t.base), DensityRange: Density(d.curve.greatest() - t.base), Curve: d.curve}
	if c.Time > 0 {
		s := c.Time.Seconds()
		r.Time = &s
	}
	if t.crosses {
		h := LogH(t.speedPoint)
		r.SpeedPoint = &h
	}
	if t.reaches {
		rise, gradient := Density(t.rise), t.gradient()
		r.DensityRise, r.AverageGradient = &rise, &gradient
		r.ISOValid = rise >= validRise-validWithin-hair && rise <= validRise+validWithin+hair
	}
	if i, ok := d.curve.contrastIndex(t.base); ok {
		r.ContrastIndex = &i
	}
	if g, ok := gamma(d.curve.x, d.curve.y); ok {
		r.Gamma = &g
	}
	return r
}

// notes is what a person should know of the curve.
func (d *drawing) notes(label string) (notes []string) {
	note := func(format string, args ...any) {
		notes = append(notes, label+": "+fmt.Sprintf(format, args...))
	}
	p, t := d.curve, d.traits
	switch {
	case d.stated == nil:
		note("no base plus fog given; the least density, %.2f, is taken", t.base)
	case t.base > p.least()+baseAbove:
		note("base plus fog is given as %.2f, the least reading is %.2f", t.base, p.least())
	}
	switch {
	case !t.crosses && p.y[0] > t.base+speedOverBase:
		note("the readings begin above the speed point, so there is no speed and no average gradient; read steps of less exposure")
	case !t.crosses:
		note("the readings end below the speed point, so there is no speed and no average gradient; read steps of more exposure")
	case !t.reaches:
		note("the readings end less than %.2f log H from the speed point, so there is no average gradient; read steps of more exposure", averagedOver)
	}
	if t.crosses && p.crossings(t.base+speedOverBase) > 1 {
		note("density comes to 0.10 over base plus fog more than once, and the first time is taken; smooth by the reading error")
	}
	for i := 0; i+1 < len(p.x); i++ {
		if gap := p.x[i+1] - p.x[i]; gap > widestGap+hair {
			note("no reading between log H %.2f and %.2f", p.x[i], p.x[i+1])
		}
	}
	return notes
}
