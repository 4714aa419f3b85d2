package chem

// One leg of a walk: a smooth rate over a short time, its integral and the
// inverse of that integral.
//
// With ln(time) = l + m (T - Tk) on the leg, ln r = ln(time at reference) - l -
// m (T - Tk). Where T is linear in time, so is ln r, and both the integral and
// its inverse are elementary; expm1 and log1p keep them exact for the faintest
// slope. Where T drifts the integral is an exponential integral: ten points on
// a short panel give it to the last digit with no series to be chosen.

import (
	"fmt"
	"math"
)

// segment is a span over which the rate follows one formula.
type segment struct {
	tempSpan
	lnTime     rateLine // ln(time) against temperature; unused where other is set
	smoothRate Rate     // a rate of a kind unknown here, taken as smooth
}

// hasClosedForm reports whether the rate is known to be made of pieces.
func hasClosedForm(rate Rate) bool {
	switch rate.(type) {
	case Coefficient, Pairs:
		return true
	}
	return false
}

// newSegment finds the formula for a span that crosses no edge of it; the middle
// decides, since the ends may be edges.
func newSegment(s tempSpan, rate Rate) (segment, error) {
	middle := Celsius(s.tempAt(s.from + (s.to-s.from)/2))
	var err error
	l := segment{tempSpan: s}
	switch r := rate.(type) {
	case Coefficient:
		l.lnTime, err = r.rateLine(middle)
	case Pairs:
		l.lnTime, err = r.rateLine(middle)
	default:
		l.smoothRate = rate
	}
	return l, err
}

// rate is the rate at the time x.
func (l segment) rate(x float64) (float64, error) {
	if l.smoothRate == nil {
		return math.Exp(l.lnTime.lnRate(l.tempAt(x))), nil
	}
	t := Celsius(l.tempAt(x))
	r, err := l.smoothRate.At(t)
	if err == nil && !(r > 0 && r <= math.MaxFloat64) {
		err = fmt.Errorf("rate: %g at %.2f C; expected above zero", r, float64(t))
	}
	return r, err
}

// dose is the integral of the rate from the start of the leg to x, in
// nanoseconds.
func (l segment) dose(x float64) (float64, error) {
	h := x - l.from
	switch {
	// constant: r h
	case l.slope == 0 && l.excess == 0:
		r, err := l.rate(l.from)
		return r * h, err
	// linear: ln r = ln r0 + b h, so the integral is r0 (exp(b h) - 1)/b
	case l.excess == 0 && l.smoothRate == nil:
		r, err := l.rate(l.from)
		if bend := l.logRateSlope(); bend != 0 {
			return r * math.Expm1(bend*h) / bend, err
		}
		return r * h, err
	}
	// drifting, or a rate of another kind
	return l.integrateGauss(x)
}

// logRateSlope is the change of ln(rate) in a nanosecond where the temperature is
// linear in time.
func (l segment) logRateSlope() float64 { return -l.lnTime.slope * l.slope }

// timeOfDose is the time at which the integral has become dose; the leg's whole
// integral must not be less.
func (l segment) timeOfDose(dose float64) (float64, error) {
	r, err := l.rate(l.from)
	if err != nil {
		return 0, err
	}
	// linear: h = ln(1 + b dose/r0)/b
	if l.excess == 0 && l.smoothRate == nil {
		if bend := l.logRateSlope(); bend != 0 {
			return min(l.from+math.Log1p(dose*bend/r)/bend, l.to), nil
		}
	}
	// constant: h = dose/r; where r is 1 this is exact
	if l.excess == 0 && l.slope == 0 {
		return min(l.from+dose/r, l.to), nil
	}
	return l.solveNewton(dose, l.from+dose/r)
}

// solveNewton solves dose(x) = dose from a first guess: the rate is the derivative.
// The root stays bracketed; a step that leaves the bracket is replaced by its
// middle.
func (l segment) solveNewton(dose, x float64) (float64, error) {
	lo, hi := l.from, l.to
	// the rate is smooth and never zero: three or four steps do; 100 are for
	// halving alone
	for range 100 {
		if !(x >= lo && x <= hi) {
			x = lo + (hi-lo)/2
		}
		d, err := l.dose(x)
		if err != nil {
			return 0, err
		}
		if d < dose {
			lo = x
		} else {
			hi = x
		}
		r, err := l.rate(x)
		if err != nil {
			return 0, err
		}
		step := (dose - d) / r
		x += step
		if math.Abs(step) < 0.01 || hi-lo < 0.01 { // hundredths of a nanosecond
			break
		}
	}
	return min(max(x, l.from), l.to), nil
}

// Nodes and weights of the ten-point Gauss-Legendre rule on [-1, 1], the
// positive half. Source: Abramowitz and Stegun, Handbook of Mathematical
// Functions, Table 25.4, n = 10 (from memory; a test compares them with
// gonum's).
var (
	gaussX = [5]float64{0.14887433898163122, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717}
	gaussW = [5]float64{0.29552422471475287, 0.26926671930999635, 0.21908636251598204, 0.1494513491505806, 0.06667134430868814}
)

// integrateGauss is the integral of the rate from the start of the leg to x by the
// ten-point rule.
func (l segment) integrateGauss(x float64) (float64, error) {
	half := (x - l.from) / 2
	middle := l.from + half
	sum := 0.0
	for i, u := range gaussX {
		before, err := l.rate(middle - half*u)
		if err != nil {
			return 0, err
		}
		after, err := l.rate(middle + half*u)
		if err != nil {
			return 0, err
		}
		sum += gaussW[i] * (before + after)
	}
	return half * sum, nil
}
