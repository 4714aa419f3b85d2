package curve

// The curve between readings: a monotone piecewise cubic through every one of
// them. Between two readings it never leaves their range, so that noise makes
// no hump of its own.
//
// Source: F. N. Fritsch and J. Butland, "A method for constructing local
// monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984)
// 300-304: the slope at a reading is the weighted harmonic mean of the slopes
// beside it, zero where those differ in sign; at the ends a three-point
// formula, limited.

import (
	"math"
	"sort"
)

// Interpolant is a curve that can be asked between its readings.
type Interpolant struct {
	x, y, d []float64 // exposures, densities, slopes
}

// NewInterpolant draws the curve. x rises; there are at least two of each.
func NewInterpolant(x, y []float64) *Interpolant {
	p := &Interpolant{x: x, y: y, d: make([]float64, len(x))}
	p.setSlopes()
	return p
}

// setSlopes computes the slopes from x and y.
func (p *Interpolant) setSlopes() {
	last := len(p.x) - 1
	if last == 1 {
		s := p.secant(0)
		p.d[0], p.d[1] = s, s
		return
	}
	for i := 1; i < last; i++ {
		before, after := p.secant(i-1), p.secant(i)
		p.d[i] = 0
		if before*after > 0 {
			hb, ha := p.x[i]-p.x[i-1], p.x[i+1]-p.x[i]
			p.d[i] = 3 * (hb + ha) / ((2*ha+hb)/before + (ha+2*hb)/after)
		}
	}
	p.d[0] = endSlope(p.x[1]-p.x[0], p.x[2]-p.x[1], p.secant(0), p.secant(1))
	p.d[last] = endSlope(p.x[last]-p.x[last-1], p.x[last-1]-p.x[last-2], p.secant(last-1), p.secant(last-2))
}

// secant is the slope from reading i to the next.
func (p *Interpolant) secant(i int) float64 { return (p.y[i+1] - p.y[i]) / (p.x[i+1] - p.x[i]) }

// endSlope is the slope at an end, from the widths and slopes of the two
// pieces nearest to it.
func endSlope(h, next, slope, nextSlope float64) float64 {
	d := ((2*h+next)*slope - h*nextSlope) / (h + next)
	switch {
	case d*slope <= 0:
		return 0
	case slope*nextSlope <= 0 && math.Abs(d) > 3*math.Abs(slope):
		return 3 * slope
	}
	return d
}

// Range is the least and the greatest log exposure that was read.
func (p *Interpolant) Range() (from, to LogH) { return LogH(p.x[0]), LogH(p.x[len(p.x)-1]) }

// Drawn is the curve in so many parts of equal width, from its first point to its last.
func (p *Interpolant) Drawn(parts int) []Reading {
	list := make([]Reading, parts+1)
	from, to := p.Range()
	for i := range list {
		h := min(to, from+(to-from)*LogH(i)/LogH(parts))
		d, _ := p.At(h)
		list[i] = Reading{LogH: h, Density: d}
	}
	return list
}

// At is the density at an exposure; ok is false outside the readings.
func (p *Interpolant) At(h LogH) (d Density, ok bool) {
	x, last := float64(h), len(p.x)-1
	if !(x >= p.x[0] && x <= p.x[last]) {
		return 0, false
	}
	i := min(last, sort.SearchFloat64s(p.x, x))
	if p.x[i] == x {
		return Density(p.y[i]), true
	}
	v, _ := p.piece(i-1, (x-p.x[i-1])/(p.x[i]-p.x[i-1]))
	return Density(v), true
}

// piece is the value and the slope (for each unit of u) of piece i at the
// fraction u of its width.
func (p *Interpolant) piece(i int, u float64) (v, slope float64) {
	h, rise := p.x[i+1]-p.x[i], p.y[i+1]-p.y[i]
	a, b := p.d[i]*h, p.d[i+1]*h
	c2, c3 := 3*rise-2*a-b, a+b-2*rise
	return p.y[i] + u*(a+u*(c2+u*c3)), a + u*(2*c2+3*u*c3)
}

// crossing is the least exposure at which the curve, coming from below, comes
// to a level; ok is false where the readings begin above it or never reach it.
func (p *Interpolant) crossing(level float64) (x float64, ok bool) {
	switch {
	case p.y[0] == level:
		return p.x[0], true
	case p.y[0] > level:
		return 0, false
	}
	for i := 0; i+1 < len(p.y); i++ {
		switch over := p.y[i+1] - level; {
		case over >= 0 && over < 1e-12: // a reading at the level, but for rounding
			return p.x[i+1], true
		case over > 0:
			return p.x[i] + p.within(i, level)*(p.x[i+1]-p.x[i]), true
		}
	}
	return 0, false
}

// crossings is how often the curve, coming from below, comes to a level.
func (p *Interpolant) crossings(level float64) (n int) {
	for i := 0; i+1 < len(p.y); i++ {
		if p.y[i] < level && p.y[i+1] >= level {
			n++
		}
	}
	return n
}

// within solves a rising piece for a level: Newton's steps, halving where one
// would leave the bracket.
func (p *Interpolant) within(i int, level float64) (u float64) {
	low, high := 0.0, 1.0
	u = (level - p.y[i]) / (p.y[i+1] - p.y[i])
	for range 60 {
		v, slope := p.piece(i, u)
		if v < level {
			low = u
		} else {
			high = u
		}
		next := u - (v-level)/slope
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-u) < 1e-15 {
			return next
		}
		u = next
	}
	return u
}
