package growthbelief

// What a belief says: times, gradients, and the film itself, each with the interval that holds nine in ten.

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.org/wetside/chem"
)

// Confidence is how much an interval holds.
const Confidence = 0.9

// Interval is a middle, half of what is possible on either side, and the ends of an interval.
type Interval struct{ Middle, Low, High float64 }

// Narrowness is how far the ends are apart, as a logarithm.
func (v Interval) Narrowness() float64 { return math.Log(v.High / v.Low) }

// interval is that of a value of each film.
func (b *Belief) interval(of func(f *film) float64) Interval {
	values := make([]float64, len(b.films))
	for i := range b.films {
		values[i] = of(&b.films[i])
	}
	weight := slices.Clone(b.weight)
	stat.SortWeighted(values, weight)
	at := func(p float64) float64 { return stat.Quantile(p, stat.Empirical, values, weight) }
	return Interval{at(0.5), at((1 - Confidence) / 2), at((1 + Confidence) / 2)}
}

// Time is the developing time, in minutes at a temperature, at which the next session has a gradient. The ends hold
// nine in ten sessions: doubt of the film and scatter of sessions together. Plus infinity where it is never reached.
func (b *Belief) Time(gradient float64, at chem.Celsius) Interval {
	return b.interval(func(f *film) float64 { return f.time(gradient, f.next, at) })
}

// TimeOfFilm is Time without the scatter of sessions: what is not known of the film itself.
func (b *Belief) TimeOfFilm(gradient float64, at chem.Celsius) Interval {
	return b.interval(func(f *film) float64 { return f.time(gradient, 0, at) })
}

// Gradient is what the next session has after a time at a temperature.
func (b *Belief) Gradient(t time.Duration, at chem.Celsius) Interval {
	return b.interval(func(f *film) float64 {
		return math.Exp(f.logGradient(time.Duration(float64(t)*math.Exp(f.next)), at))
	})
}

// Limit is the gradient that the film ends at.
func (b *Belief) Limit() Interval { return b.interval(func(f *film) float64 { return f.limit }) }

// Rate is the rate of growth, a minute at the reference.
func (b *Belief) Rate() Interval { return b.interval(func(f *film) float64 { return f.rate }) }

// Induction is the minutes at the reference before anything shows.
func (b *Belief) Induction() Interval {
	return b.interval(func(f *film) float64 { return f.induction })
}

// Coefficient is the temperature coefficient, for 10 degrees.
func (b *Belief) Coefficient() Interval {
	return b.interval(func(f *film) float64 { return f.coefficient })
}

// Sessions is by which share of developing time sessions scatter.
func (b *Belief) Sessions() Interval { return b.interval(func(f *film) float64 { return f.sessions }) }
