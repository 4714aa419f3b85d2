package response

// The surface: its most likely shape, and draws of all that it may be.

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"gonum.org/v1/gonum/mat"
)

// Surface is a film's density by exposure and development.
type Surface struct {
	Shortest, Longest time.Duration // developing times of the test

	options Options
	sheets  []Sheet
	basis   basis
	fits    []fitted  // the likeliest first
	weights []float64 // of the fits, summing to 1
}

// One is one surface of those that the readings allow.
type One struct {
	shape
	basis basis
	base  float64
	a, c  []float64
	more  float64 // development of a session by its scatter: 1 for as planned
}

// leastWeight is what a shape must have beside the likeliest to be drawn.
const leastWeight = 1e-4

// weigh turns scores into weights: each shape was as likely as any other before.
func (s *Surface) weigh() {
	slices.SortStableFunc(s.fits, func(a, b fitted) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return 0
	})
	best, sum := s.fits[0].score, 0.0
	n := 0
	for _, f := range s.fits {
		w := math.Exp(f.score - best)
		if w < leastWeight {
			break
		}
		s.weights, sum, n = append(s.weights, w), sum+w, n+1
	}
	s.fits = s.fits[:n]
	for i := range s.weights {
		s.weights[i] /= sum
	}
}

// Exposures are the ends of the readings' log exposures.
func (s *Surface) Exposures() (low, high float64) { return s.basis.low, s.basis.high }

// ReadingError is the error of a reading as stated or, by the weights, as estimated.
func (s *Surface) ReadingError() (e float64) {
	for i, f := range s.fits {
		e += s.weights[i] * f.error
	}
	return e
}

// Rate is the rate of growth per minute and the induction in minutes, by the weights.
func (s *Surface) Rate() (rate, induction float64) {
	for i, f := range s.fits {
		rate += s.weights[i] * f.rate
		induction += s.weights[i] * f.induction
	}
	return rate, induction
}

// Likeliest is the surface of the greatest weight.
func (s *Surface) Likeliest() One { return s.one(s.fits[0], s.fits[0].mean, 1) }

func (s *Surface) one(f fitted, c *mat.VecDense, more float64) One {
	raw := c.RawVector().Data
	return One{f.shape, s.basis, raw[0], slices.Clone(raw[1 : 1+splines]), slices.Clone(raw[1+splines:]), more}
}

// Draws are n surfaces, each as likely as the readings make it; with scatter also the next session's
// own. The same seed gives the same ones.
func (s *Surface) Draws(n int, seed uint64, scatter bool) []One {
	r := rand.New(rand.NewPCG(seed, 0x5eed))
	list := make([]One, n)
	z := mat.NewVecDense(coefficients, nil)
	for i := range list {
		f := s.fits[pick(s.weights, (float64(i)+r.Float64())/float64(n))]
		for j := range coefficients {
			z.SetVec(j, r.NormFloat64())
		}
		// precision = U'U: U^-1 z has its inverse as covariance.
		var u mat.TriDense
		f.factor.UTo(&u)
		var c mat.VecDense
		if err := c.SolveVec(&u, z); err != nil {
			c.Reset()
			c.CloneFromVec(f.mean)
		} else {
			c.AddVec(&c, f.mean)
		}
		more := 1.0
		if scatter {
			more += math.Hypot(s.options.SessionScatter, s.options.SheetScatter) * r.NormFloat64()
		}
		list[i] = s.one(f, &c, more)
	}
	return list
}

// pick is the index at a share of the sum of weights.
func pick(weights []float64, share float64) int {
	for i, w := range weights {
		if share < w {
			return i
		}
		share -= w
	}
	return len(weights) - 1
}

// Density is that of a log exposure after a developing time, base and fog included.
func (o One) Density(h float64, t time.Duration) float64 {
	d, _ := o.at(h, t)
	return d
}

// at is the density and its slope per log exposure. Outside the readings it goes on as it ends.
func (o One) at(h float64, t time.Duration) (density, slope float64) {
	inside := min(max(h, o.basis.low), o.basis.high)
	u := o.grown(t)
	a, as := o.basis.combine(o.a, inside)
	c, cs := o.basis.combine(o.c, inside)
	density, slope = o.more*u*(a+(1-u)*c), o.more*u*(as+(1-u)*cs)
	return o.base + density + slope*(h-inside), slope
}

// BaseFog is base plus fog after a time: the density at the least exposure read.
func (o One) BaseFog(t time.Duration) float64 { return o.Density(o.basis.low, t) }
