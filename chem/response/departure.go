package response

// Growth that departs from every law that is tried, a little and smoothly: without this, what the law misses would be
// taken for scatter of the sheets and left out of the surface.
//
// A sheet's coefficient is its scatter and the departure at its time. The departure is a Gaussian process over the
// logarithm of time; given the coefficients it is expected, at any time, by their regression (C. E. Rasmussen and
// C. K. I. Williams, "Gaussian Processes for Machine Learning" (2006), ch. 2, from memory). Beside a usual scatter of
// sheets it is next to nothing; readings and sheets that are nearly exact make it go through them.

import (
	"math"
	"time"
)

// What is believed of the departure (our own rules).
const (
	departSpread = 0.01     // standard deviation, as a fraction of the density over base plus fog
	departOver   = math.Ln2 // logarithm of time over which it changes
)

// alike is how much the departures of two times have in common, 0 to 1.
func alike(a, b time.Duration) float64 {
	x := math.Log(float64(a)/float64(b)) / departOver
	return math.Exp(-x * x / 2)
}

// departure is by what fraction growth departs, as a weight for each time of the test.
type departure struct {
	times   []time.Duration
	weights []float64
}

// departureOf a surface is the one to be expected of its sheets' coefficients.
func departureOf(s *Surface, coefficients []float64) (d departure) {
	d.weights = append(d.weights, coefficients...)
	s.together.forward(d.weights)
	s.together.back(d.weights)
	for i := range d.weights {
		d.times = append(d.times, s.grams[i].time)
		d.weights[i] *= departSpread * departSpread
	}
	return d
}

func (d departure) at(t time.Duration) (sum float64) {
	for i, w := range d.weights {
		sum += w * alike(t, d.times[i])
	}
	return sum
}
