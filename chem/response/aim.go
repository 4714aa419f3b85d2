package response

// Aims: what a negative shall have, met by developing time and exposure together.

import (
	"errors"
	"math"
	"slices"
	"time"
)

// Aim is one thing that a surface can be solved for.
type Aim interface {
	// reached is what the aim asks of a surface at a time, rising with it, and where the shadow
	// (or the speed point) lies; false where the readings do not go far enough.
	reached(o One, t time.Duration) (value, shadow float64, ok bool)
	wanted() float64
}

// The constants of the trade's measures.
const (
	speedDensity   = 0.10 // over base plus fog: the speed point (ISO 6)
	gradientLength = 1.30 // log H over which the average gradient is taken (ISO 6)
)

// Average aims at an average gradient over 1.30 log H from the speed point.
type Average struct{ Gradient float64 }

func (a Average) wanted() float64 { return a.Gradient }

func (a Average) reached(o One, t time.Duration) (float64, float64, bool) {
	h, ok := o.crossing(t, speedDensity)
	if !ok || h+gradientLength > o.basis.high {
		return 0, 0, false
	}
	return (o.Density(h+gradientLength, t) - o.Density(h, t)) / gradientLength, h, true
}

// crossing is the log exposure at which density first stands so far over base plus fog.
func (o One) crossing(t time.Duration, over float64) (float64, bool) {
	const steps = 160
	want := o.BaseFog(t) + over
	before := o.basis.low
	for i := 1; i <= steps; i++ {
		h := o.basis.low + (o.basis.high-o.basis.low)*float64(i)/steps
		if o.Density(h, t) < want {
			before = h
			continue
		}
		low, high := before, h
		for range 40 {
			if middle := (low + high) / 2; o.Density(middle, t) < want {
				low = middle
			} else {
				high = middle
			}
		}
		return high, true
	}
	return 0, false
}

// Solution is where an aim is met.
type Solution struct {
	Time   time.Duration
	Shadow float64 // log exposure of the shadow, or of the speed point
	// Intervals that hold nine in ten, the next session's scatter included.
	Low, High             time.Duration
	ShadowLow, ShadowHigh float64
	Met                   float64 // share of the surfaces that meet the aim at all
	Outside               bool    // the time lies outside the times of the test
}

// What solving takes.
const (
	solveDraws  = 400
	confidence  = 0.9
	solveSeed   = 2718
	farther     = 3.0 // times the longest, and part of the shortest time, that are searched
	leastMet    = 0.5 // share of surfaces that must meet an aim
	bisections  = 36
	searchSteps = 24
)

// Errors of Solve.
var (
	ErrNotReached = errors.New("the aim is not reached within three times the longest developing time")
	ErrReadings   = errors.New("the readings do not reach the exposures that the aim needs")
)

// Solve meets an aim. It errs where the likeliest surface does not reach it.
func (s *Surface) Solve(a Aim) (Solution, error) {
	t, shadow, err := s.solveOne(s.Likeliest(), a)
	if err != nil {
		return Solution{}, err
	}
	out := Solution{Time: t, Shadow: shadow, Outside: t < s.Shortest || t > s.Longest}
	var times, shadows []float64
	draws := s.Draws(solveDraws, solveSeed, true)
	for _, o := range draws {
		if t, h, err := s.solveOne(o, a); err == nil {
			times, shadows = append(times, t.Seconds()), append(shadows, h)
		}
	}
	out.Met = float64(len(times)) / float64(len(draws))
	if out.Met < leastMet {
		return out, ErrNotReached
	}
	slices.Sort(times)
	slices.Sort(shadows)
	at := func(list []float64, share float64) float64 {
		return list[min(int(share*float64(len(list))), len(list)-1)]
	}
	seconds := func(v float64) time.Duration { return time.Duration(v * float64(time.Second)) }
	out.Low, out.High = seconds(at(times, (1-confidence)/2)), seconds(at(times, (1+confidence)/2))
	out.ShadowLow, out.ShadowHigh = at(shadows, (1-confidence)/2), at(shadows, (1+confidence)/2)
	return out, nil
}

// solveOne is the time at which one surface reaches an aim.
func (s *Surface) solveOne(o One, a Aim) (time.Duration, float64, error) {
	first, last := s.Shortest.Seconds()/farther, s.Longest.Seconds()*farther
	seconds := func(v float64) time.Duration { return time.Duration(v * float64(time.Second)) }
	below, known := 0.0, false
	for i := range searchSteps + 1 {
		t := first * math.Pow(last/first, float64(i)/searchSteps)
		v, h, ok := a.reached(o, seconds(t))
		if !ok {
			continue
		}
		known = true
		if v < a.wanted() {
			below = t
			continue
		}
		if below == 0 {
			return seconds(t), h, nil // reached before the search begins
		}
		low, high := below, t
		for range bisections {
			middle := (low + high) / 2
			if v, _, ok := a.reached(o, seconds(middle)); ok && v < a.wanted() {
				low = middle
			} else {
				high = middle
			}
		}
		_, h, _ = a.reached(o, seconds(high))
		return seconds(high), h, nil
	}
	if !known {
		return 0, 0, ErrReadings
	}
	return 0, 0, ErrNotReached
}
