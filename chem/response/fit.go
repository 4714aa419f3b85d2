package response

// The fit. Density at log exposure h after a time t:
//
//	D(h, t) = b + u A(h) + u (1-u) C(h),   u grows from 0 with t - t0 and is 1 at the longest time
//
// b is the base; A is where the longest time ends, so that what is believed of it says nothing of the rate; C how much
// sooner or later the exposures get there;
// both are splines. With C = 0 every density above the base grows alike: by the law of the time-contrast curve,
// u as 1 - exp(-k (t - t0)) (C. E. K. Mees, "The Theory of the Photographic Process"), or slower in the end, as
// reactions of a higher order do. Where base plus
// fog was read, it is b + u f + u (1-u) g. A and C are smooth and C is small as far as the readings allow: normal
// beliefs whose widths, with k, t0, the order and the reading error, are weighed by how well they foretell the
// readings (marginal likelihood). A sheet that develops more or less than planned, by itself or with its
// session, has all densities over base plus fog moved together, by a coefficient of its own. What all sheets
// have in common no test can tell from the film: their coefficients sum to nothing in the fit, and the
// common part comes in where surfaces are drawn. Where coefficients of neighbouring times go together, growth departs
// from the law, and the surface departs with it (departure.go).

import (
	"errors"
	"math"
	"time"
)

// The places of the coefficients: b, f, g, then A, C and the sheets.
const (
	atBase  = 0
	atFog   = 1 // f, and g after it
	atA     = 3
	atC     = atA + splines
	atSheet = atC + splines
)

// Beliefs before any reading, as standard deviations.
const (
	baseMean    = 0.15
	baseSpread  = 0.3  // of the base about baseMean
	toeLength   = 0.3  // log H over which a toe comes down to fog
	fogSpread   = 0.05 // of f and g about what that makes of A and C at the least exposure
	levelSpread = 4.0  // of A's level and slope: wide
	curlSpread  = 0.17 // of C's level and slope: growth differs little over the exposures (our own belief: 0.35 of where
	// development would end, squared with the 0.7 of it that a test's longest time comes to)
)

// shape is one set of what enters the fit not linearly.
type shape struct {
	growth
	noise
}

// growth is how development goes on: its rate is in proportion to a power of what is left.
type growth struct {
	rate      float64 // k, per minute
	induction float64 // t0, minutes
	order     float64 // that power: 1 for the law of the time-contrast curve
	prior     float64 // logarithm of how likely it was before
	longest   float64 // of the law's own 0 to 1, what the longest time of the test comes to
}

// noise is what lies between curves and readings.
type noise struct {
	bend  float64 // standard deviation of the second differences of A
	error float64 // of a reading, where none is stated
}

// grown is u.
func (g growth) grown(t time.Duration) float64 { return g.law(t) / g.longest }

// law goes from 0 to 1.
func (g growth) law(t time.Duration) float64 {
	x := g.rate * max(0, t.Minutes()-g.induction)
	if g.order == 1 {
		return -math.Expm1(-x)
	}
	return 1 - math.Pow(1+(g.order-1)*x, -1/(g.order-1))
}

// fitted is the surface of one shape: its most likely coefficients and the factor of their
// precision.
type fitted struct {
	shape
	mean   []float64
	factor square  // of the precision
	score  float64 // log marginal likelihood
}

// one is the surface of coefficients.
func (s *Surface) one(f *fitted, c []float64, more float64) One {
	o := One{shape: f.shape, basis: s.basis, base: c[atBase], fog: [2]float64{c[atFog], c[atFog+1]}, based: s.based, more: more}
	copy(o.a[:], c[atA:])
	copy(o.c[:], c[atC:])
	o.departs = departureOf(s, c[atSheet:])
	return o
}

// ErrNoFit says that the readings let no surface be found.
var ErrNoFit = errors.New("no surface fits the readings")

// Fit fits the surface. It errs for fewer than two developing times or five readings a sheet.
func Fit(sheets []Sheet, o Options) (*Surface, error) {
	if err := check(sheets); err != nil {
		return nil, err
	}
	s := &Surface{options: o.filled()}
	s.span(sheets)
	s.sum(sheets)
	s.try(sheets)
	if len(s.fits) == 0 {
		return nil, ErrNoFit
	}
	s.weigh()
	s.next = s.Draws(solveDraws, solveSeed)
	return s, nil
}

// span takes over the ranges of exposure and time.
func (s *Surface) span(sheets []Sheet) {
	s.basis = basis{math.Inf(1), math.Inf(-1)}
	s.Shortest, s.Longest = sheets[0].Time, sheets[0].Time
	for _, sh := range sheets {
		s.basis.low = min(s.basis.low, sh.LogH[0])
		s.basis.high = max(s.basis.high, sh.LogH[len(sh.LogH)-1])
		s.Shortest, s.Longest = min(s.Shortest, sh.Time), max(s.Longest, sh.Time)
		s.based = s.based || sh.Base != nil
	}
}

// sum makes each sheet's sums, and how the sheets' scatter goes together.
func (s *Surface) sum(sheets []Sheet) {
	s.size = atSheet + len(sheets)
	s.together = newSquare(len(sheets))
	one, all := s.options.SheetScatter, s.options.SessionScatter
	sum := 0.0
	for i, sh := range sheets {
		s.grams = append(s.grams, s.basis.gram(sh))
		for j := range i {
			if sheets[j].Session == sh.Session {
				s.together.plus(i, j, all*all)
				sum += 2 * all * all
			}
		}
		s.together.plus(i, i, one*one+all*all)
		sum += one*one + all*all
		for j := range i + 1 {
			s.together.plus(i, j, departSpread*departSpread*alike(s.grams[i].time, s.grams[j].time))
		}
	}
	s.common = math.Sqrt(sum) / float64(len(sheets))
	s.together.factorize()
}

// belief is the precision and right side before any reading.
type belief struct {
	precision square
	right     []float64
	logDet    float64
}

func (s *Surface) believe(bend float64) *belief {
	b := &belief{precision: newSquare(s.size), right: make([]float64, s.size)}
	// combination believes that a sum of coefficients is 0 within a spread.
	combination := func(spread float64, at []int, by []float64) {
		w := 1 / (spread * spread)
		for i, row := range at {
			for j, column := range at {
				if column <= row {
					b.precision.plus(row, column, w*by[i]*by[j])
				}
			}
		}
	}
	combination(baseSpread, []int{atBase}, []float64{1})
	b.right[atBase] = baseMean / (baseSpread * baseSpread)
	// A toe that ends as an exponential stands over fog by its slope times a length.
	slope := toeLength * knots / (s.basis.high - s.basis.low) / 2
	for i, part := range []int{atA, atC} {
		combination(fogSpread, []int{atFog + i, part, part + 1, part + 2}, []float64{1, -1./6 - slope, -4. / 6, -1./6 + slope})
	}
	for _, part := range []struct {
		from  int
		level float64
	}{{atA, levelSpread}, {atC, curlSpread}} {
		for i := range splines {
			combination(part.level, []int{part.from + i}, []float64{1})
			if i+2 < splines {
				combination(bend, []int{part.from + i, part.from + i + 1, part.from + i + 2}, []float64{1, -2, 1})
			}
		}
	}
	s.believeSheets(b.precision)
	factor := newSquare(s.size)
	copy(factor.data, b.precision.data)
	factor.factorize()
	b.logDet = factor.logDet()
	return b
}

// nothing is how near to it the sheets' coefficients sum, as a part of what they have in common.
const nothing = 0.02

// believeSheets puts in the sheets' scatter.
func (s *Surface) believeSheets(precision square) {
	hold := 1 / (nothing * nothing * s.common * s.common * float64(len(s.grams)*len(s.grams)))
	for i := range s.grams {
		column := make([]float64, len(s.grams)) // of the inverse of the covariance
		column[i] = 1
		s.together.forward(column)
		s.together.back(column)
		for j := range i + 1 {
			precision.plus(atSheet+i, atSheet+j, column[j]+hold)
		}
	}
}

// hopeless is by how much the logarithm of likelihood of sheets taken alike may lie under the best before a
// shape is given up: scatter explains no more.
const hopeless = 400

// fit finds the coefficients of one shape: once with sheets alike, and again with the scatter, which needs to know
// the densities. It is false for a shape that cannot be it.
func (s *Surface) fit(sh shape, b *belief, best float64) (f fitted, ok bool) {
	n := normal{square: newSquare(s.size), right: make([]float64, s.size)}
	f = fitted{shape: sh, mean: make([]float64, s.size), factor: n.square}
	for pass := range 2 {
		n.start(b)
		known := s.one(&f, f.mean, 1)
		for i := range s.grams {
			g := &s.grams[i]
			n.add(g, f.grown(g.time), f.error)
			if pass > 0 {
				n.scatter(g, &known, atSheet+i)
			}
		}
		f.score = n.solve(f.mean)
		if math.IsNaN(f.score) || f.score < best-hopeless {
			return f, false
		}
	}
	f.score += sh.prior
	return f, true
}

// unbend takes off by how much the belief that curves are smooth and near to what was believed bends the surface: a
// surface as it was found, read without error, would be found with P^-1 (P0 c - r) less than its coefficients c, P0 and r
// what was believed and P all together, so that is added (twicing: J. W. Tukey, "Exploratory Data Analysis" (1977), from
// memory). The sheets' scatter keeps its belief.
func (s *Surface) unbend(f *fitted) {
	b := s.beliefs[f.bend]
	off := make([]float64, s.size)
	for i := range atSheet {
		off[i] = -b.right[i]
		for j := range atSheet {
			off[i] += b.precision.data[max(i, j)*s.size+min(i, j)] * f.mean[j]
		}
	}
	f.factor.forward(off)
	f.factor.back(off)
	for i, v := range off {
		f.mean[i] += v
	}
}
