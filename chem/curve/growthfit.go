package curve

// Least squares for the growth curve. For a given k and t0 the best limit is
// known in closed form, so the search is over k (and t0) alone: first over a
// coarse grid, which no starting guess can mislead, then by damped Gauss-Newton
// steps on all parameters.
//
// Sources: G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10 (1973) 413-432
// (separating the linear parameter); K. Levenberg 1944 and D. W. Marquardt
// 1963 (damping). Checked against NIST's BoxBOD, Bates and Watts, and scipy.

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// What the best curve looks like.
type growthShape int

const (
	saturating growthShape = iota // as growth does
	linear                        // proportional to time: k is next to nothing
	constant                      // the same at all times: k is beyond measure
)

// The grid. k times the longest time, at least; k times the shortest, at most.
const (
	gridK        = 60
	gridT0       = 12
	minCurvature = 0.02 // below it 1 - exp(-kt) is straight within one per cent
	maxCurvature = 12   // above it every time has reached the limit
	maxT0        = 0.95 // of the shortest time
	fitRounds    = 100
	fitConverged = 1e-14
)

// growthFitter holds the points of a fit, and room to work in.
type growthFitter struct {
	t, g              []float64 // minutes, gradients
	shortest, longest float64
}

func newGrowthFitter(sheets []Sheet) *growthFitter {
	f := &growthFitter{shortest: math.Inf(1)}
	for _, s := range sheets {
		m := minutes(s.Time)
		f.t, f.g = append(f.t, m), append(f.g, s.Gradient)
		f.shortest, f.longest = min(f.shortest, m), max(f.longest, m)
	}
	return f
}

// fit finds the curve of least squares. Where the best one is straight or
// flat, Growth is the nearest that still bends.
func (f *growthFitter) fit(induction bool) (Growth, growthShape) {
	g, s := f.search(0)
	if !induction {
		return f.refine(g, s, 2)
	}
	plain, plainShape := f.refine(g, s, 2)
	for i := 1; i <= gridT0; i++ {
		t0 := f.shortest * maxT0 * float64(i) / gridT0
		if h, hs := f.search(t0); hs == saturating && (h.RSS < g.RSS || s != saturating) {
			g, s = h, hs
		}
	}
	best, bestShape := f.refine(g, s, 3)
	if bestShape != saturating || best.Induction <= 0 {
		return plain, plainShape
	}
	return best, bestShape
}

// search runs over k for a fixed t0.
func (f *growthFitter) search(t0 float64) (best Growth, s growthShape) {
	low, high := math.Log(minCurvature/(f.longest-t0)), math.Log(maxCurvature/(f.shortest-t0))
	best.RSS = math.Inf(1)
	at := 0
	for i := 0; i <= gridK; i++ {
		k := math.Exp(low + (high-low)*float64(i)/gridK)
		if g := f.limit(k, t0); g.RSS < best.RSS {
			best, at = g, i
		}
	}
	switch at {
	case 0:
		return best, linear
	case gridK:
		return best, constant
	}
	return best, saturating
}

// limit is the curve of least squares for given k and t0.
func (f *growthFitter) limit(k, t0 float64) Growth {
	var fg, ff float64
	for i, t := range f.t {
		v := -math.Expm1(-k * (t - t0))
		fg += v * f.g[i]
		ff += v * v
	}
	g := Growth{Limit: fg / ff, K: PerMinute(k), Induction: Minutes(t0)}
	g.RSS = f.rss(g)
	return g
}

func (f *growthFitter) rss(g Growth) (sum float64) {
	for i, t := range f.t {
		r := f.g[i] - g.Limit*-math.Expm1(-float64(g.K)*(t-float64(g.Induction)))
		sum += r * r
	}
	return sum
}

// refine takes damped Gauss-Newton steps from a curve, on limit and k and, of
// three parameters, t0. A step outside the grid's range of k is none.
func (f *growthFitter) refine(g Growth, s growthShape, parameters int) (Growth, growthShape) {
	if s != saturating {
		return g, s
	}
	damping := 1e-3
	for range fitRounds {
		step, ok := f.step(g, damping, parameters)
		next := Growth{Limit: g.Limit + step[0], K: g.K + PerMinute(step[1]), Induction: g.Induction + Minutes(step[2])}
		if ok && f.allowed(next) {
			next.RSS = f.rss(next)
		} else {
			next.RSS = math.Inf(1)
		}
		if next.RSS <= g.RSS {
			small := math.Abs(step[0]) <= fitConverged*math.Abs(g.Limit) && math.Abs(step[1]) <= fitConverged*float64(g.K)
			g, damping = next, max(damping/10, 1e-12)
			if small {
				break
			}
			continue
		}
		if damping *= 10; damping > 1e12 {
			break
		}
	}
	if !(g.Limit > 0) {
		return g, constant
	}
	return g, saturating
}

func (f *growthFitter) allowed(g Growth) bool {
	t0 := float64(g.Induction)
	return float64(g.K) > 0.1*minCurvature/f.longest && t0 < f.shortest && float64(g.K)*(f.shortest-t0) < 10*maxCurvature
}

// step solves (J'J + damping diag J'J) step = J'r for the first parameters of
// limit, k, t0.
func (f *growthFitter) step(g Growth, damping float64, parameters int) (step [3]float64, ok bool) {
	var a [3][4]float64
	for i, t := range f.t {
		u := t - float64(g.Induction)
		e := math.Exp(-float64(g.K) * u)
		j := [3]float64{1 - e, g.Limit * u * e, -g.Limit * float64(g.K) * e}
		r := f.g[i] - g.Limit*(1-e)
		for p := range parameters {
			for q := range parameters {
				a[p][q] += j[p] * j[q]
			}
			a[p][3] += j[p] * r
		}
	}
	for p := range parameters {
		a[p][p] *= 1 + damping
	}
	return solve(a, parameters)
}

// solve is Gauss's elimination with pivots, for up to three unknowns; the last
// column of a is the right-hand side.
func solve(a [3][4]float64, n int) (x [3]float64, ok bool) {
	for c := range n {
		pivot := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[pivot][c]) {
				pivot = r
			}
		}
		a[c], a[pivot] = a[pivot], a[c]
		if !(math.Abs(a[c][c]) > 0) || math.IsInf(a[c][c], 0) {
			return x, false
		}
		for r := c + 1; r < n; r++ {
			m := a[r][c] / a[c][c]
			for k := c; k < 4; k++ {
				a[r][k] -= m * a[c][k]
			}
		}
	}
	for r := n - 1; r >= 0; r-- {
		x[r] = a[r][3]
		for k := r + 1; k < n; k++ {
			x[r] -= a[r][k] * x[k]
		}
		x[r] /= a[r][r]
	}
	return x, true
}

// explained is the curve that errors are in proportion to, and how many times the stated
// errors the sheets scatter about it. What a time of induction that is believed possible explains, is
// no scatter, whether it was fitted or not.
func (out *Results) explained(measured []measuredSheet, g Growth, r Request) (fitted func(float64) float64, widened float64) {
	by := func(g Growth) func(float64) float64 {
		return func(m float64) float64 { return g.At(fromMinutes(m)) }
	}
	fitted = by(g)
	if widened = misfit(measured, fitted, r); widened == 1 || r.Induction {
		return fitted, widened
	}
	h, err := FitGrowth(out.sheets, true)
	if err != nil || h.Induction <= 0 || h.Induction > longestUnfitted {
		return fitted, widened
	}
	r.Induction = true
	if less := misfit(measured, by(h), r); less < widened {
		return by(h), less
	}
	return fitted, widened
}

// misfit is how many times the stated errors the sheets scatter; 1 where chance explains
// it, and where the scatter was not stated.
func misfit(measured []measuredSheet, fitted func(float64) float64, r Request) float64 {
	parameters := 2
	if r.Induction {
		parameters = 3
	}
	free := len(measured) - parameters
	if free < 1 || r.Errors.Scatter == 0 {
		return 1
	}
	chi2 := 0.0
	for _, m := range measured {
		mean := fitted(m.minutes)
		chi2 += (m.gradient - mean) * (m.gradient - mean) / (r.Errors.Scatter*r.Errors.Scatter*mean*mean + m.reading*m.reading)
	}
	if chi2 <= (distuv.ChiSquared{K: float64(free)}).Quantile(misfitLevel) {
		return 1
	}
	return math.Sqrt(chi2 / float64(free))
}

// A stated scatter is believed unless its sheets lie further from the fitted curve than errors explain in so many tests
// of a hundred. Each false alarm makes an interval half as wide again and more, which then holds nearly always: at 0.95
// they alone made nine in ten a percent more; with tails that are heavier than the normal distribution's, two percent.
const misfitLevel = 0.99
