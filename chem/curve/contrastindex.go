package curve

// The contrast index: three points in one straight line, an origin on the
// level of base plus fog and two points of the curve at distances 0.2 and 2.2
// from it; the index is the line's slope.
//
// Seen from the origin under the angle a, the points stand 0.2 sin a and
// 2.2 sin a over base plus fog and lie 2.0 cos a apart in log H. So the angle
// is where the curve's own distance between those two levels equals 2.0 cos a.
//
// Source: NAVEDTRA 14208 (outline); the geometry from a secondary text.

import "math"

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
	for range 36 { // to a ten-thousand-millionth of the bracket
		mid := (low + high) / 2
		if over, _ := p.distanceAt(base, mid); over <= 0 {
			low = mid
		} else {
			high = mid
		}
	}
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
func (p *Interpolant) MaxDensity() float64 {
	most := p.y[0]
	for _, y := range p.y {
		most = max(most, y)
	}
	return most
}
