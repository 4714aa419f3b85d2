package chem

// Whether readings of a bath contradict the drift that was fitted to them. Two things are looked for: residuals that
// go with their neighbours, and a room that warms or cools meanwhile, as a term that is linear in time. What either
// comes to by chance is simulated: independent errors of the same places, with what the fit takes up taken out
// of them (a parametric bootstrap on the tangent plane; it does not depend on how large the errors are).

import (
	"math"
	"math/rand/v2"
)

// DriftDoubt is how readings contradict the model.
type DriftDoubt string

// The doubts.
const (
	NoDoubt    DriftDoubt = ""
	Correlated DriftDoubt = "correlated" // residuals go with their neighbours
	RoomMoves  DriftDoubt = "room-moves" // what the bath settles towards is not constant
)

const (
	doubtLevel   = 0.01 // of each look that finds something in readings that follow the model
	doubtSamples = 4000
	thermometer  = 0.03 // K: residuals below what a digit of 0.1 K makes of an exact bath say nothing (0.1/sqrt(12))
)

// doubt looks at the residuals of a fit.
func (f driftFitter) doubt(tau, settle, amplitude, residual float64) DriftDoubt {
	if residual < thermometer {
		return NoDoubt
	}
	r, basis := make([]float64, len(f.y)), f.tangent(tau, amplitude)
	for i, t := range f.t {
		r[i] = f.y[i] - settle - amplitude*math.Exp(-t/tau)
	}
	line := append([]float64(nil), f.t...)
	project(line, basis)
	room, neighbours := f.lineShare(r, line), neighbourShare(r)
	rng := rand.New(rand.NewPCG(3, uint64(len(r))))
	asMuchLine, asMuchNeighbours := 0, 0
	for range doubtSamples {
		e := make([]float64, len(r))
		for i := range e {
			e[i] = rng.NormFloat64()
		}
		project(e, basis)
		if f.lineShare(e, line) >= room {
			asMuchLine++
		}
		if neighbourShare(e) >= neighbours {
			asMuchNeighbours++
		}
	}
	switch {
	case float64(asMuchLine) < doubtLevel*doubtSamples:
		return RoomMoves
	case float64(asMuchNeighbours) < doubtLevel*doubtSamples:
		return Correlated
	}
	return NoDoubt
}

// tangent is what the fit takes up, as perpendicular unit vectors: a constant, the curve, and how the curve moves
// with its time constant.
func (f driftFitter) tangent(tau, amplitude float64) [][]float64 {
	n := len(f.t)
	basis := [][]float64{}
	for _, column := range []func(t float64) float64{
		func(float64) float64 { return 1 },
		func(t float64) float64 { return math.Exp(-t / tau) },
		func(t float64) float64 { return amplitude * t * math.Exp(-t/tau) },
	} {
		v := make([]float64, n)
		for i, t := range f.t {
			v[i] = column(t)
		}
		before := dot(v, v)
		project(v, basis)
		if size := dot(v, v); size > 1e-14*before && size > 0 {
			for i := range v {
				v[i] /= math.Sqrt(size)
			}
			basis = append(basis, v)
		}
	}
	return basis
}

// lineShare is the part of the squares that a line in time would explain, beside what the fit takes up.
func (f driftFitter) lineShare(r, line []float64) float64 {
	d, size := dot(r, line), dot(line, line)*dot(r, r)
	if size == 0 {
		return 0
	}
	return d * d / size
}

// neighbourShare is the correlation of residuals with their neighbours (lag one).
func neighbourShare(r []float64) float64 {
	size := dot(r, r)
	if size == 0 {
		return 0
	}
	return dot(r[1:], r[:len(r)-1]) / size
}

// project takes out of v what lies along perpendicular unit vectors.
func project(v []float64, basis [][]float64) {
	for _, b := range basis {
		d := dot(v, b)
		for i := range v {
			v[i] -= d * b[i]
		}
	}
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
