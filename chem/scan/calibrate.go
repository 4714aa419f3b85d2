package scan

// From light to density: a rising curve through the tablet's steps, and what is known of the
// veil of flare that lies over all of them.

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/stat"
)

const (
	leastSteps = 5   // of the tablet that must be told apart
	toldApart  = 2.5 // standard errors between two steps at least
)

// Calibration is how one channel of a picture becomes density.
type Calibration struct {
	Lightest, Densest float64   // densities between which it holds
	Steps             int       // of the tablet that it goes through
	Residual          float64   // root mean square of each step against its neighbours' curve
	x, err, bend      []float64 // of each step: -log10 of light, its standard error, what the others' curve misses it by
	curve             interp.FritschButland
}

// calibrate makes the curve of a channel of the tablet's patches, lightest first.
func calibrate(list []patch, tablet []float64, c Channel) (Calibration, error) {
	var cal Calibration
	var d []float64
	for i, p := range list {
		s := p.by[c]
		if s.white || s.light <= 0 || p.pixels < leastInner {
			if len(d) > 0 {
				break
			}
			continue // too bright for the picture: the next step may do
		}
		x, e := -math.Log10(s.light), s.err/s.light/math.Ln10
		if n := len(d); n > 0 && x-cal.x[n-1] < toldApart*math.Hypot(e, cal.err[n-1]) {
			break
		}
		cal.x, cal.err, d = append(cal.x, x), append(cal.err, e), append(d, tablet[i])
	}
	if len(d) < leastSteps {
		return cal, fmt.Errorf("of the tablet's steps %d can be told apart in %s; expected at least %d", len(d), c, leastSteps)
	}
	cal.Lightest, cal.Densest, cal.Steps = d[0], d[len(d)-1], len(d)
	cal.leaveOut(d)
	return cal, cal.curve.Fit(cal.x, d)
}

// leaveOut finds how far each inner step lies from the curve through the others, and how much of that
// is more than noise.
func (c *Calibration) leaveOut(d []float64) {
	var squares float64
	c.bend = make([]float64, len(d))
	for i := 1; i < len(d)-1; i++ {
		var without interp.FritschButland
		if without.Fit(slices.Delete(slices.Clone(c.x), i, i+1), slices.Delete(slices.Clone(d), i, i+1)) != nil {
			continue
		}
		off := without.Predict(c.x[i]) - d[i]
		squares += off * off
		noise := without.PredictDerivative(c.x[i]) * math.Hypot(c.err[i], (c.err[i-1]+c.err[i+1])/2/math.Sqrt2)
		c.bend[i] = math.Sqrt(max(0, off*off-noise*noise))
	}
	c.Residual = math.Sqrt(squares / float64(len(d)-2))
}

// Doubt is why a patch has no density, or one not to be trusted: a code, for whoever makes words of it.
type Doubt string

// The doubts.
const (
	NoDoubt  Doubt = ""
	Denser   Doubt = "denser"  // than the tablet's last step that can be told apart
	Lighter  Doubt = "lighter" // than the tablet's first step
	Clipped  Doubt = "clipped" // at the end of the picture's scale
	Spotted  Doubt = "spotted" // dust or an edge in the patch; its density is given all the same
	Veiled   Doubt = "veiled"  // flare more than half as bright as the patch
	TooSmall Doubt = "small"   // too few pixels
)

// density is what a sample stands for, with its standard error.
func (c *Calibration) density(s sample) (d, err float64, doubt Doubt) {
	if s.white {
		return 0, 0, Clipped
	}
	x := math.Inf(1)
	if s.light > 0 {
		x = -math.Log10(s.light)
	}
	switch {
	case x > c.x[len(c.x)-1]:
		return 0, 0, Denser
	case x < c.x[0]:
		return 0, 0, Lighter
	}
	i := max(1, min(len(c.x)-1, slices.IndexFunc(c.x, func(v float64) bool { return v >= x })))
	u := (x - c.x[i-1]) / (c.x[i] - c.x[i-1])
	ends := math.Hypot((1-u)*c.err[i-1], u*c.err[i])
	slope := c.curve.PredictDerivative(x)
	return c.curve.Predict(x), math.Hypot(slope*math.Hypot(s.err/s.light/math.Ln10, ends), curveError*max(c.bend[i-1], c.bend[i])), NoDoubt
}

// curveError is the share of a bend, found with twice the distance between steps, that the curve
// errs by between them: an interpolant of the third order errs by an eighth at half the distance.
const curveError = 0.125

// veil is the light that lies over the whole tablet, that as a share of the panel's, and how much it
// differs from step to step beyond noise: light = a 10^-D + b by least squares of the relative errors.
func veil(list []patch, tablet []float64, c Channel) (light, share, uneven float64) {
	var x, y, w, noise []float64
	for i, p := range list {
		if s := p.by[c]; !s.white && s.light > 0 {
			x, y, w = append(x, math.Pow(10, -tablet[i])), append(y, s.light), append(w, 1/(s.light*s.light+s.err*s.err))
			noise = append(noise, s.err*s.err)
		}
	}
	if len(x) < leastSteps {
		return 0, 0, 0
	}
	b, a := stat.LinearRegression(x, y, w, false)
	var squares, n float64
	for i := len(x) / 2; i < len(x); i++ {
		d := y[i] - a*x[i] - b
		squares, n = squares+d*d-noise[i], n+1
	}
	return max(0, b), max(0, b/a), math.Sqrt(max(0, squares/n))
}
