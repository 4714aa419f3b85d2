// Package curve turns density readings of step-tablet negatives into
// characteristic curves, speed, gradients and the growth of the gradient with
// developing time, and those into the time for a wanted gradient. It is for
// the commands, the screens, the pages and the notebook.
//
// Start with Read, which makes a Family of the bytes of a file, and Evaluate,
// which makes Results of a Family. Results.TimeFor, Results.Developments and
// Results.Borrowed answer what a photographer asks next; Series and Expect say
// which developing times to spend test sheets on.
//
// The package opens no file, reads no clock, starts no goroutine and keeps no
// state: chance comes from a fixed seed, so that the same readings give the
// same interval every time. It never reads a missing cell as zero, never
// extends a curve beyond its readings, and answers nil where readings end too
// early. A home test is never an ISO speed: light, exposure time and process
// are not the standard's. What is given is a speed by ISO arithmetic.
//
// # Where things are
//
//	topic                          file            source
//	densities, curves, families    curve.go        -
//	files, limits, faults          readfile.go, fault.go
//	CSV                            csv.go          -
//	CGATS text                     cgats.go        ISO 28178
//	its samples, its exposures     cgats_samples.go NAVEDTRA 14209 p. 282 (step tablets)
//	between readings               interpolant.go  Fritsch and Butland 1984
//	smoothing                      smooth.go       Reinsch 1967; isotonic regression
//	what readings and sheets are off uncertainty.go third differences; common practice
//	speed point, speeds            speed.go        ISO 6:1993
//	average gradient, gamma        gradient.go     ISO 6:1993; US Army subcourse SS0513 p. 97
//	contrast index                 gradient.go     NAVEDTRA 14208
//	growth with time               growth.go       Mees 1911; Sheppard and Mees 1907
//	least squares                  growthfit.go    Levenberg 1944, Marquardt 1963
//	what a test leaves open        growth_uncertainty.go Bayes's rule on a grid (Gelman and others)
//	interval of a time, of growth  growthinterval.go -
//	how a person's sessions differ ownsessions.go   Gelman and others
//	intervals of one curve         curveinterval.go parametric bootstrap (Efron)
//	gradient wanted, N-2 to N+2    development.go  Stroebel et al.
//	which times to test            filmtest.go     simulation
package curve

// What is read off negatives: densities against log exposure, one curve for
// each developing time, several curves a family.

import (
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem"
)

// Density is log10 of incident over transmitted light. Two national
// laboratories agree within 0.010 (Buhr et al., J. Imaging Sci. Technol. 44
// (2000) 156): show two decimals.
type Density float64

// LogH is log10 of an exposure: of lux seconds, or relative, as a Scale says.
type LogH float64

// logHPerStop is one stop, a factor of two, in log10.
const logHPerStop = 0.30102999566398120

// FromStops is the density of a patch that a spot meter reads so many stops
// below clear light, over the same light box: 0.301 for each stop.
func FromStops(stops float64) Density { return Density(logHPerStop * stops) }

// Stops is a difference of log exposure in stops.
func (l LogH) Stops() float64 { return float64(l) / logHPerStop }

// Reading is a density and the exposure that made it.
type Reading struct {
	LogH    LogH
	Density Density
}

// Curve is what was read off one sheet.
type Curve struct {
	Time     time.Duration // developing time; 0 where it is not known
	Base     *Density      // base plus fog; nil: the least density is taken
	Readings []Reading     // exposure rising from each to the next
	Steps    []int         // the number of each in the order of the file, from 1; nil: as they stand
	Errors   []Density     // standard error of each, where a picture told it; 0: not known, nil: of none
	BaseErr  Density       // of base plus fog, likewise
	Session  string        // that developed the sheet; curves of one share its scatter. "": not known, one for all
}

// Step is the number of reading i in the order of the file.
func (c Curve) Step(i int) int {
	if i < len(c.Steps) {
		return c.Steps[i]
	}
	return i + 1
}

// Scale says what the exposures of a family are.
type Scale int

// The scales, the least known first.
const (
	Relative   Scale = iota // steps of a tablet, nothing known of the light
	Unstated                // written as log exposures: lux seconds only where the person says so
	LuxSeconds              // placed by Options.LogH0
)

// Family is the curves of one film, as far as they are read.
type Family struct {
	Name   string // the file, as the caller named it
	Scale  Scale
	Curves []Curve
	Notes  []string // what the reader took for granted, a sentence each
}

// Join makes one family of several. The scale is the least known of theirs.
func Join(families ...Family) Family {
	joined := Family{Scale: LuxSeconds}
	for i, f := range families {
		if i > 0 {
			joined.Name += ", "
		}
		joined.Name += f.Name
		joined.Scale = min(joined.Scale, f.Scale)
		joined.Curves = append(joined.Curves, f.Curves...)
		joined.Notes = append(joined.Notes, f.Notes...)
	}
	return joined
}

// Label names the curve for a person: its developing time, or its place.
func (f Family) Label(i int) string {
	if t := f.Curves[i].Time; t > 0 {
		return chem.FormatDuration(t)
	}
	return fmt.Sprintf("curve %d", i+1)
}

// check errs where a curve cannot be drawn: fewer than two readings, values
// out of range, exposures that do not rise.
func (c Curve) check() error {
	if len(c.Readings) < 2 {
		return fmt.Errorf("%d readings; expected at least 2", len(c.Readings))
	}
	if len(c.Readings) > maxRows {
		return fmt.Errorf("%d readings; expected at most %d", len(c.Readings), maxRows)
	}
	if c.Base != nil && !densityLimits.holds(float64(*c.Base)) {
		return fmt.Errorf("base plus fog %g; expected %s", float64(*c.Base), densityLimits)
	}
	if c.Time < 0 {
		return fmt.Errorf("developing time %v; expected more than zero", c.Time)
	}
	last := math.Inf(-1)
	for i, r := range c.Readings {
		switch {
		case !densityLimits.holds(float64(r.Density)):
			return fmt.Errorf("reading %d: density %g; expected %s", i+1, float64(r.Density), densityLimits)
		case !logHLimits.holds(float64(r.LogH)):
			return fmt.Errorf("reading %d: log H %g; expected %s", i+1, float64(r.LogH), logHLimits)
		case !(float64(r.LogH)-last >= minStep):
			return fmt.Errorf("reading %d: log H %g after %g; expected it to rise by %g or more", i+1, float64(r.LogH), last, minStep)
		}
		last = float64(r.LogH)
	}
	return nil
}

// columns returns exposures and densities as plain slices.
func (c Curve) columns() (x, y []float64) {
	x, y = make([]float64, len(c.Readings)), make([]float64, len(c.Readings))
	for i, r := range c.Readings {
		x[i], y[i] = float64(r.LogH), float64(r.Density)
	}
	return x, y
}
