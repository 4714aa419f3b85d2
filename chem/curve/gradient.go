package curve

// Average gradient, gamma and contrast index.
//
// Sources: ISO 6:1993 (second hand) for the point n at 1.30 log H from the
// speed point and the rise of 0.80, within 0.05 (memory), that makes a speed
// valid; US Army subcourse SS0513 p. 97 for gamma as rise over run.

import (
	"math"
	"slices"

	"example.org/wetside/chem"
)

const (
	averagedOver     = 1.30 // log H
	validRise        = 0.80 // density over those
	validWithin      = 0.05
	gammaOver        = 0.60 // log H
	gammaSlack       = 0.01 // two stops, 0.602, pass for 0.60
	minGammaReadings = 3    // readings
)

// curveTraits are what bootstrap rounds need of a curve: its speed point and its
// rise over 1.30 log H from there.
type curveTraits struct {
	base, speedPoint, rise     float64
	hasSpeedPoint, hasGradient bool // whether speedPoint and rise are known
}

// gradient is the average gradient.
func (t curveTraits) gradient() float64 { return t.rise / averagedOver }

// traits of a curve over a base plus fog.
func (p *Interpolant) traits(base float64) curveTraits {
	t := curveTraits{base: base}
	t.speedPoint, t.hasSpeedPoint = p.crossing(base + speedOverBase)
	if !t.hasSpeedPoint {
		return t
	}
	end := t.speedPoint + averagedOver
	_, last := p.Range()
	if over := end - float64(last); over > 0 && over < Tolerance {
		end = float64(last)
	}
	if d, ok := p.At(LogH(end)); ok {
		t.rise, t.hasGradient = float64(d)-(base+speedOverBase), true
	}
	return t
}

// steepest is the stretch of 0.60 log H, of three or more readings, whose line of least
// squares is the steepest; ok is false where no such stretch lies inside the readings.
func steepest(x, y []float64) (p straightPart, ok bool) {
	for i := range x {
		if x[i]+gammaOver > x[len(x)-1]+gammaSlack {
			break
		}
		j := i
		for j < len(x) && x[j] <= x[i]+gammaOver+gammaSlack {
			j++
		}
		if j-i < minGammaReadings {
			continue
		}
		if l := FitLine(x[i:j], y[i:j]); !ok || l.Slope > p.Slope {
			p, ok = straightPart{l, i, j}, true
		}
	}
	return p, ok
}

// straightPart is a line through the readings from first up to, not including, end.
type straightPart struct {
	StraightLine
	first, end int
}

// at is the line's value.
func (l StraightLine) at(x float64) float64 { return l.Intercept + l.Slope*x }

// straighten puts the readings of the part onto its line.
func (p straightPart) straighten(x, y []float64) {
	for i := p.first; i < p.end; i++ {
		y[i] = p.at(x[i])
	}
}

// straightPart is the straight part of readings; its slope is gamma. Readings that are smoothed
// tell where the steepest stretch of 0.60 log H is, and it goes on to either side as far as
// errors hide any bend: the longer it is, the less do they tilt it. Others are taken as
// they are.
func (d *fitResult) straightPart(readings []float64) (straightPart, bool) {
	x := d.curve.x
	if d.straight == nil {
		return steepest(x, readings)
	}
	y := make([]float64, len(readings))
	d.straight.smooth(readings, y)
	p, ok := steepest(x, y)
	if !ok {
		return p, false
	}
	best := straightPart{FitLine(x[p.first:p.end], readings[p.first:p.end]), p.first, p.end}
	for i := range p.first + 1 {
		for j := len(x); j >= p.end && j-i > best.end-best.first; j-- {
			if l, ok := straightWithin(x[i:j], readings[i:j], d.e); ok {
				best = straightPart{l, i, j}
				break
			}
		}
	}
	return best, true
}

// Within how many standard errors a stretch counts as straight: its bend, and its distances
// from the line all together (our own rules).
const (
	bendWithin = 1
	lineWithin = 2
)

// straightWithin is the line of least squares through readings of an error e; false where they bend,
// as by a parabola, or lie further off it than errors do.
func straightWithin(x, y []float64, e float64) (StraightLine, bool) {
	l := FitLine(x, y)
	squares := make([]float64, len(x))
	for i, v := range x {
		squares[i] = v * v
	}
	tangent := FitLine(x, squares)
	var qy, qq, rss float64
	for i, v := range x {
		q := squares[i] - tangent.at(v) // what of a parabola no line has
		qy += q * y[i]
		qq += q * q
		rss += (y[i] - l.at(v)) * (y[i] - l.at(v))
	}
	free := float64(len(x) - 2)
	return l, math.Abs(qy) <= bendWithin*e*math.Sqrt(qq) && rss <= e*e*(free+lineWithin*math.Sqrt(2*free))
}

// StraightLine is a straight line.
type StraightLine struct{ Slope, Intercept float64 }

// FitLine is the straight line of least squares through points; x holds at least
// two different values.
func FitLine(x, y []float64) StraightLine {
	var mx, my, xx, xy float64
	n := float64(len(x))
	for i := range x {
		mx += x[i] / n
		my += y[i] / n
	}
	for i := range x {
		xx += (x[i] - mx) * (x[i] - mx)
		xy += (x[i] - mx) * (y[i] - my)
	}
	return StraightLine{Slope: xy / xx, Intercept: my - xy/xx*mx}
}

// ISOTriangle is that of ISO 6:1993 at a speed point: 1.30 of log H on, and 0.80 up.
func ISOTriangle(m Reading) (corners [3]Reading) {
	return [3]Reading{m, {m.LogH + averagedOver, m.Density}, {m.LogH + averagedOver, m.Density + validRise}}
}

// The contrast index: three points in one straight line, an origin on the
// level of base plus fog and two points of the curve at distances 0.2 and 2.2
// from it; the index is the line's slope.
//
// Seen from the origin under the angle a, the points stand 0.2 sin a and
// 2.2 sin a over base plus fog and lie 2.0 cos a apart in log H. So the angle
// is where the curve's own distance between those two levels equals 2.0 cos a.
//
// Source: NAVEDTRA 14208 (outline); the geometry by C. J. Niederpruem, C. N. Nelson and J. A. C. Yule, "Contrast
// Index", Phot. Sci. Eng. 10 (1966) 35-41, from memory.
const (
	nearDistance = 0.2
	farDistance  = 2.2
	angleSteps   = 180
)

// contrastIndex is the slope of that line; ok is false where the readings end
// before the far point. Of several such lines the steepest is taken: flat ones
// come from noise near base plus fog.
func (p *Interpolant) contrastIndex(base float64) (index float64, ok bool) {
	steepest := math.Asin(min(1, max(0, (p.MaxDensity()-base)/farDistance)))
	over, ok := p.distanceAt(base, steepest)
	if !ok || over < 0 {
		return 0, false
	}
	high := steepest
	for i := angleSteps - 1; i > 0; i-- {
		low := steepest * float64(i) / angleSteps
		over, ok := p.distanceAt(base, low)
		if !ok {
			return 0, false
		}
		if over <= 0 {
			return math.Tan(p.angle(base, low, high)), true
		}
		high = low
	}
	return 0, false
}

// angle halves the bracket low to high down to the angle of the line.
func (p *Interpolant) angle(base, low, high float64) float64 {
	const halvings = 36 // to a ten-thousand-millionth of the bracket
	low, high = chem.Bisect(low, high, halvings, func(angle float64) bool {
		over, _ := p.distanceAt(base, angle)
		return over <= 0
	})
	return (low + high) / 2
}

// distanceAt is by how much the curve's two points lie further apart than the line
// asks for; ok is false where the curve does not have them.
func (p *Interpolant) distanceAt(base, angle float64) (over float64, ok bool) {
	sin, cos := math.Sincos(angle)
	near, ok := p.crossing(base + nearDistance*sin)
	if !ok {
		return 0, false
	}
	far, ok := p.crossing(min(base+farDistance*sin, p.MaxDensity()))
	return far - near - (farDistance-nearDistance)*cos, ok
}

// MaxDensity is the greatest density that was read.
func (p *Interpolant) MaxDensity() float64 { return slices.Max(p.y) }
