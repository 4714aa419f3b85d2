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
	// reached is what the aim asks of a curve, rising with development, and where the shadow
	// (or the speed point) lies; false where the readings do not go far enough.
	reached(l *line) (value, shadow float64, ok bool)
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

func (a Average) reached(l *line) (float64, float64, bool) {
	h, ok := l.crossing(speedDensity)
	if !ok || h+gradientLength > l.end {
		return 0, 0, false
	}
	return (l.density(h+gradientLength) - l.density(h)) / gradientLength, h, true
}

// Contrast aims at a contrast index: the slope of a straight line from the level of base plus fog that meets the
// curve at distances 0.2 and 2.2 from its beginning (source: as in package curve).
type Contrast struct{ Index float64 }

const (
	nearDistance = 0.2
	farDistance  = 2.2
)

func (c Contrast) wanted() float64 { return c.Index }

func (c Contrast) reached(l *line) (float64, float64, bool) {
	speed, ok := l.crossing(speedDensity)
	if !ok {
		return 0, 0, false
	}
	// The two points lie nearer together in log H than the line asks for where it is too flat: the steepest
	// line of which the readings hold both ends is tried first.
	low, high := 0.0, math.Asin(min(1, max(0, (l.density(l.basis.high)-l.fog)/farDistance)))
	if apart, ok := l.apart(high); !ok || apart < 0 {
		return 0, 0, false
	}
	for range 34 {
		middle := (low + high) / 2
		if apart, ok := l.apart(middle); ok && apart >= 0 {
			high = middle
		} else {
			low = middle
		}
	}
	return math.Tan(high), speed, true
}

// apart is by how much the curve's two points of a line at an angle lie further apart than the line's.
func (l *line) apart(angle float64) (float64, bool) {
	sin, cos := math.Sincos(angle)
	near, ok := l.crossing(nearDistance * sin)
	if !ok {
		return 0, false
	}
	far, ok := l.crossing(min(farDistance*sin, l.density(l.basis.high)-l.fog))
	return far - near - (farDistance-nearDistance)*cos, ok
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

// Confidence is that of the intervals.
const Confidence = 0.9

// What solving takes.
const (
	solveDraws = 400
	solveSeed  = 2718
	farther    = 3.0 // times the longest, and part of the shortest time, that are searched
	leastMet   = 0.5 // share of surfaces that must meet an aim
)

// Errors of Solve.
var (
	ErrNotReached = errors.New("the aim is not reached within three times the longest developing time")
	ErrReadings   = errors.New("the readings do not reach the exposures that the aim needs")
)

// Solve meets an aim. It errs where the surface to be expected does not reach it.
func (s *Surface) Solve(a Aim) (Solution, error) {
	middle := time.Duration(math.Sqrt(float64(s.Shortest) * float64(s.Longest)))
	t, shadow, err := s.solveOne(s.expected, a, middle)
	if err != nil {
		return Solution{}, err
	}
	out := Solution{Time: t, Shadow: shadow, Outside: t < s.Shortest || t > s.Longest}
	var times, shadows []float64
	for i := range s.next {
		if t, h, err := s.solveOne(s.next[i].line, a, out.Time); err == nil {
			times, shadows = append(times, t.Seconds()), append(shadows, h)
		}
	}
	out.Met = float64(len(times)) / float64(len(s.next))
	if out.Met < leastMet {
		return out, ErrNotReached
	}
	// Surfaces that do not meet the aim would take longer than any that do.
	for range len(s.next) - len(times) {
		times = append(times, farther*s.Longest.Seconds())
	}
	slices.Sort(times)
	slices.Sort(shadows)
	out.Low, out.High = seconds(quantile(times, (1-Confidence)/2)), seconds(quantile(times, (1+Confidence)/2))
	out.ShadowLow, out.ShadowHigh = quantile(shadows, (1-Confidence)/2), quantile(shadows, (1+Confidence)/2)
	return out, nil
}

// quantile is linear between values, each of which stands in the middle of its share.
func quantile(sorted []float64, share float64) float64 {
	at := min(max(share*float64(len(sorted))-0.5, 0), float64(len(sorted)-1))
	i := min(int(at), len(sorted)-2)
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

func seconds(v float64) time.Duration { return time.Duration(v * float64(time.Second)) }

// solveOne is the time at which one surface reaches an aim, looked for from a guess on.
func (s *Surface) solveOne(curve func(time.Duration) line, a Aim, guess time.Duration) (time.Duration, float64, error) {
	const widen = 1.25
	first, last := s.Shortest.Seconds()/farther, s.Longest.Seconds()*farther
	over := func(t float64) (by, shadow float64, ok bool) {
		l := curve(seconds(t))
		v, h, ok := a.reached(&l)
		return v - a.wanted(), h, ok
	}
	low := min(max(guess.Seconds()/widen, first), last)
	high := min(low*widen*widen, last)
	below, _, lowOK := over(low)
	for low > first && lowOK && below >= 0 {
		high = low
		low = max(first, low/widen/widen)
		below, _, lowOK = over(low)
	}
	if lowOK && below >= 0 {
		_, h, _ := over(low)
		return seconds(low), h, nil // reached before the search begins
	}
	above, h, highOK := over(high)
	for high < last && !(highOK && above >= 0) {
		low, below, lowOK = high, above, highOK
		high = min(last, high*widen*widen)
		above, h, highOK = over(high)
	}
	switch {
	case !highOK:
		return 0, 0, ErrReadings
	case above < 0:
		return 0, 0, ErrNotReached
	}
	side := 0
	for range 40 {
		if high-low < 1e-4 {
			break
		}
		t := (low + high) / 2
		if lowOK { // the chord; an end that stays twice counts half (the Illinois rule)
			t = min(max(high-above*(high-low)/(above-below), low+0.01*(high-low)), high-0.01*(high-low))
		}
		by, shadow, ok := over(t)
		if ok && math.Abs(by) < 1e-7 {
			return seconds(t), shadow, nil
		}
		if ok && by >= 0 {
			high, above, h = t, by, shadow
			if side > 0 {
				below /= 2
			}
			side = 1
		} else {
			low, below, lowOK = t, by, ok
			if side < 0 {
				above /= 2
			}
			side = -1
		}
	}
	if !lowOK { // the readings begin to reach it where it is passed already
		return 0, 0, ErrReadings
	}
	return seconds(high), h, nil
}
