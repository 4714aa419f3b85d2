package response

// The surface: its most likely shape, and draws of all that it may be.

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"time"
)

// Surface is a film's density by exposure and development.
type Surface struct {
	Shortest, Longest time.Duration // developing times of the test

	options  Options
	basis    basis
	based    bool // base plus fog was read
	grams    []gram
	size     int                 // how many coefficients
	together square              // factor of the covariance of the sheets' scatter
	common   float64             // standard deviation of what all sheets of the test have in common
	beliefs  map[float64]*belief // before any reading, by the bend
	fits     []fitted            // the likeliest first
	weights  []float64           // of the fits, summing to 1
	likely   []One               // of each fit
	next     []One               // what the next session's sheets may be
}

// One is one surface of those that the readings allow.
type One struct {
	shape
	basis basis
	base  float64
	fog   [2]float64
	based bool
	a, c  coefs
	drawn bool    // not the likeliest
	more  float64 // what a sheet develops by its scatter: 1 for as planned

	departs departure
}

// leastWeight is what a shape must have beside the likeliest to be drawn.
const leastWeight = 1e-4

// weigh turns scores into weights: each shape was as likely as any other before.
func (s *Surface) weigh() {
	sort.SliceStable(s.fits, func(i, j int) bool { return s.fits[i].score > s.fits[j].score })
	best, sum := s.fits[0].score, 0.0
	for _, f := range s.fits {
		w := math.Exp(f.score - best)
		if w < leastWeight {
			break
		}
		s.weights, sum = append(s.weights, w), sum+w
	}
	s.fits = slices.Clone(s.fits[:len(s.weights)])
	for i := range s.weights {
		s.weights[i] /= sum
		s.unbend(&s.fits[i])
		s.likely = append(s.likely, s.one(&s.fits[i], s.fits[i].mean, 1))
	}
}

// Exposures are the ends of the readings' log exposures.
func (s *Surface) Exposures() (low, high float64) { return s.basis.low, s.basis.high }

// expected is the curve to be expected after a time: of all shapes by their weights. Where the sheets scatter, many shapes
// fit about as well, and which of them fits best is chance.
func (s *Surface) expected(t time.Duration) line {
	sum := line{basis: s.basis, end: s.basis.high}
	for i := range s.likely {
		l, w := s.likely[i].line(t), s.weights[i]
		for k, v := range l.c {
			sum.c[k] += w * v
		}
		sum.fog += w * l.fog
	}
	return sum
}

// Density is to be expected at a log exposure after a developing time, base and fog included.
func (s *Surface) Density(h float64, t time.Duration) float64 {
	l := s.expected(t)
	return l.density(h)
}

// BaseFog is to be expected after a time: as it was read, else the density at the least exposure read.
func (s *Surface) BaseFog(t time.Duration) float64 { return s.expected(t).fog }

// Draws are n surfaces, each as likely as the readings make it, with what the sheets of the test have in common
// and what the next session and its sheet do. The same seed gives the same ones.
func (s *Surface) Draws(n int, seed uint64) []One {
	r := rand.New(rand.NewPCG(seed, 0x5eed))
	list := make([]One, n)
	c := make([]float64, s.size)
	spread := math.Hypot(s.common, math.Hypot(s.options.SessionScatter, s.options.SheetScatter))
	for i := range list {
		f := &s.fits[pick(s.weights, (float64(i)+r.Float64())/float64(n))]
		for j := range c {
			c[j] = r.NormFloat64()
		}
		f.factor.back(c) // precision = LL': L'^-1 of independent ones has its inverse as covariance
		for j, m := range f.mean {
			c[j] += m
		}
		more := math.Exp(spread * r.NormFloat64()) // a ratio, next sheet over test's: even in its logarithm
		list[i] = s.one(f, c, more)
		list[i].drawn = true
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

// line is the characteristic curve of one developing time.
type line struct {
	basis basis
	c     coefs
	fog   float64 // base plus fog
	end   float64 // log exposure up to which it is asked
}

// drawnOn is how far draws are carried on past the readings, log H: that one of them has its shadow a little later
// than the likeliest surface does not make its highlight unknown.
const drawnOn = 0.3

// line is the curve after a time. Growth does not run backwards: where u (A + C) - u² C would fall again it stays
// as it was. And more exposure never gives less density.
func (o *One) line(t time.Duration) line {
	l := line{basis: o.basis, end: o.basis.high}
	if o.drawn {
		l.end += drawnOn
	}
	u := o.grown(t)
	for i, a := range o.a {
		at, c := u, o.c[i]
		if c > 0 && a+c > 0 {
			at = min(u, (a+c)/(2*c))
		}
		l.c[i] = o.base + at*a + at*(1-at)*c
	}
	l.c.rising()
	l.fog, _ = o.basis.combine(&l.c, o.basis.low)
	if o.based {
		l.fog = o.base + u*o.fog[0] + u*(1-u)*o.fog[1]
		for i, v := range l.c {
			l.c[i] = max(v, l.fog) // nothing exposed lies under what was not
		}
	}
	more := o.more * (1 + o.departs.at(t))
	for i, v := range l.c {
		l.c[i] = l.fog + more*(v-l.fog)
	}
	return l
}

// density at a log exposure; outside the readings it goes on as it ends.
func (l *line) density(h float64) float64 {
	inside := min(max(h, l.basis.low), l.basis.high)
	d, slope := l.basis.combine(&l.c, inside)
	return d + slope*(h-inside)
}

// crossing is the log exposure at which density stands so far over base plus fog; false outside
// the readings.
func (l *line) crossing(over float64) (float64, bool) {
	want := l.fog + over
	low, high := l.basis.low, l.basis.high
	const rounded = 1e-12
	if l.density(low) > want || l.density(high) < want-rounded {
		return 0, false
	}
	h := (low + high) / 2
	for range 60 { // Newton's steps, halving where one leaves the bracket
		d, slope := l.basis.combine(&l.c, h)
		if math.Abs(d-want) < 1e-10 {
			break
		}
		if d < want {
			low = h
		} else {
			high = h
		}
		if h -= (d - want) / slope; !(h > low && h < high) {
			h = (low + high) / 2
		}
	}
	return h, true
}
