package curve

// Smoothing by the reading error E, stated or estimated. A natural cubic smoothing
// spline, which trades distance from the readings against bending; then
// isotonic regression, which lets a curve rise or stand but not fall.
//
// The penalty of bending is a tenth of the one with the least expected distance
// from the true curve for errors E (Mallows's criterion). The full penalty
// rounds the toe off, and with it the speed point: simulated on an invented
// film, a tenth costs 0.3 % of the average gradient at E = 0.01 instead of
// 1.2 %, and scatters less than either the full penalty or none. The tenth is
// our own rule.
//
// Sources: C. H. Reinsch, Numer. Math. 10 (1967) 177-183; P. Craven and
// G. Wahba, Numer. Math. 31 (1979) 377-403; P. J. Green and B. W. Silverman,
// Nonparametric Regression and Generalized Linear Models (1994), ch. 2, whose
// letters are used; all from memory, checked against scipy.

import (
	"math"
	"slices"
)

const (
	minSmoothed   = 5    // readings
	maxSmoothed   = 100  // readings: the trace costs their square
	penaltySteps  = 41   // tried, from the least to the most
	minPenalty    = 1e-8 // next to none
	maxPenalty    = 1e2  // next to a straight line
	penaltyShare  = 0.1  // of the penalty so chosen
	straightShare = 10   // of it, where only the place of the straight part is looked for
)

// smoother smooths readings at fixed exposures with a fixed penalty.
type smoother struct {
	h      []float64 // widths between exposures
	lambda float64   // the penalty of bending
	// R + lambda Q'VQ = L D L', V the variances: the diagonal, and L one and two below it
	d, l1, l2 []float64
	gamma     []float64 // room to work in
	v         []float64 // variance of each reading, of the usual one's: 1 where all are alike
}

// newSmoother prepares for exposures x, five or more of them.
func newSmoother(x []float64) *smoother {
	n := len(x)
	s := &smoother{h: make([]float64, n-1), gamma: make([]float64, n-2), v: slices.Repeat([]float64{1}, n)}
	for i := range s.h {
		s.h[i] = x[i+1] - x[i]
	}
	s.d, s.l1, s.l2 = make([]float64, n-2), make([]float64, n-2), make([]float64, n-2)
	return s
}

// choose sets the penalty for readings y whose error is E: the one at which
// the sum of (y - Sy)^2/v and 2 E^2 trace S is least.
func (s *smoother) choose(y []float64, e Density) {
	out := make([]float64, len(y))
	best, least := 0.0, math.Inf(1)
	for i := range penaltySteps {
		part := float64(i) / (penaltySteps - 1)
		s.penalise(minPenalty * math.Pow(maxPenalty/minPenalty, part))
		s.smooth(y, out)
		risk := 2 * float64(e) * float64(e) * s.trace()
		for k := range y {
			risk += (y[k] - out[k]) * (y[k] - out[k]) / s.v[k]
		}
		if risk < least {
			best, least = s.lambda, risk
		}
	}
	s.penalise(best)
}

// trace is the sum of the shares that the readings have in their own smooth
// values: how many parameters the curve has.
func (s *smoother) trace() (sum float64) {
	n := len(s.h) + 1
	unit, out := make([]float64, n), make([]float64, n)
	for i := range unit {
		unit[i] = 1
		s.smooth(unit, out)
		sum += out[i]
		unit[i] = 0
	}
	return sum
}

// penalise sets lambda and factors R + lambda Q'VQ.
func (s *smoother) penalise(lambda float64) {
	s.lambda = lambda
	for j := range s.d {
		a0, a1, a2 := s.row(j)
		if j >= 1 {
			a0 -= s.l1[j-1] * s.l1[j-1] * s.d[j-1]
			a1 -= s.l1[j-1] * s.l2[j-1] * s.d[j-1]
		}
		if j >= 2 {
			a0 -= s.l2[j-2] * s.l2[j-2] * s.d[j-2]
		}
		s.d[j], s.l1[j], s.l2[j] = a0, a1/a0, a2/a0
	}
}

// row gives the entries of R + lambda Q'VQ on the diagonal of row j and one and
// two places right of it.
func (s *smoother) row(j int) (a0, a1, a2 float64) {
	b, m, a := s.q(j)
	a0 = (s.h[j]+s.h[j+1])/3 + s.lambda*(b*b*s.v[j]+m*m*s.v[j+1]+a*a*s.v[j+2])
	if j+1 < len(s.d) {
		b1, m1, _ := s.q(j + 1)
		a1 = s.h[j+1]/6 + s.lambda*(m*b1*s.v[j+1]+a*m1*s.v[j+2])
	}
	if j+2 < len(s.d) {
		b2, _, _ := s.q(j + 2)
		a2 = s.lambda * a * b2 * s.v[j+2]
	}
	return a0, a1, a2
}

// q is column j of Q: its entries in rows j, j+1 and j+2.
func (s *smoother) q(j int) (before, mid, after float64) {
	before, after = 1/s.h[j], 1/s.h[j+1]
	return before, -before - after, after
}

// smooth writes the smooth densities of y into out: y - lambda VQ gamma, where
// (R + lambda Q'VQ) gamma = Q'y.
func (s *smoother) smooth(y, out []float64) {
	g, n := s.gamma, len(s.d)
	for j := range g {
		b, m, a := s.q(j)
		g[j] = b*y[j] + m*y[j+1] + a*y[j+2]
		if j >= 1 {
			g[j] -= s.l1[j-1] * g[j-1]
		}
		if j >= 2 {
			g[j] -= s.l2[j-2] * g[j-2]
		}
	}
	for j := range g {
		g[j] /= s.d[j]
	}
	for j := n - 2; j >= 0; j-- {
		g[j] -= s.l1[j] * g[j+1]
		if j+2 < n {
			g[j] -= s.l2[j] * g[j+2]
		}
	}
	copy(out, y)
	for j := range g {
		b, m, a := s.q(j)
		out[j] -= s.lambda * b * g[j] * s.v[j]
		out[j+1] -= s.lambda * m * g[j] * s.v[j+1]
		out[j+2] -= s.lambda * a * g[j] * s.v[j+2]
	}
}

// monotone writes the smooth densities of y into out, made to rise or stand.
func (s *smoother) monotone(y, out []float64) {
	s.smooth(y, out)
	isotonic(out)
}

// isotonic replaces y by the nearest values, in the least squares, that do not
// fall: neighbours that fall are pooled into their mean.
func isotonic(y []float64) {
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	for _, v := range y {
		pools = append(pools, pool{v, 1})
		for k := len(pools) - 1; k > 0; k-- {
			a, b := pools[k-1], pools[k]
			if a.sum*float64(b.n) <= b.sum*float64(a.n) {
				break
			}
			pools = append(pools[:k-1], pool{a.sum + b.sum, a.n + b.n})
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			y[i] = p.sum / float64(p.n)
			i++
		}
	}
}
