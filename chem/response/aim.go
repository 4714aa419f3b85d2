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

// reach is how far one surface is over an aim at a time, in seconds, and where its shadow then stands.
type reach struct {
	t, over, shadow float64
	ok              bool // the readings reach as far
}

func (r reach) met() bool { return r.ok && r.over >= 0 }

// solveOne is the time at which one surface reaches an aim, looked for from a guess on.
func (s *Surface) solveOne(curve func(time.Duration) line, a Aim, guess time.Duration) (time.Duration, float64, error) {
	at := func(t float64) reach {
		l := curve(seconds(t))
		v, h, ok := a.reached(&l)
		return reach{t, v - a.wanted(), h, ok}
	}
	low, high := around(at, guess.Seconds(), s.Shortest.Seconds()/farther, s.Longest.Seconds()*farther)
	switch {
	case low.met(): // reached before the search begins
		return seconds(low.t), low.shadow, nil
	case !high.ok:
		return 0, 0, ErrReadings
	case high.over < 0:
		return 0, 0, ErrNotReached
	}
	if low, high = narrowed(at, low, high); !low.ok { // the readings begin to reach it where it is passed already
		return 0, 0, ErrReadings
	}
	return seconds(high.t), high.shadow, nil
}

// around is the times on either side of the one sought, between the first and the last that are looked at;
// both on one side where it is not there.
func around(at func(float64) reach, guess, first, last float64) (low, high reach) {
	const widen = 1.25
	low = at(min(max(guess/widen, first), last))
	end := min(low.t*widen*widen, last)
	for low.t > first && low.met() {
		end = low.t
		low = at(max(first, low.t/widen/widen))
	}
	if low.met() {
		return low, low
	}
	high = at(end)
	for high.t < last && !high.met() {
		low, high = high, at(min(last, high.t*widen*widen))
	}
	return low, high
}

// narrowed is two times a ten-thousandth of a second apart at most, or one that meets the aim to 1e-7: by the
// chord, on which an end that stays twice counts half (the Illinois rule); by halves where the lower is not known.
func narrowed(at func(float64) reach, low, high reach) (reach, reach) {
	side := 0
	for range 40 {
		if high.t-low.t < 1e-4 {
			break
		}
		t := (low.t + high.t) / 2
		if low.ok {
			apart := high.t - low.t
			t = min(max(high.t-high.over*apart/(high.over-low.over), low.t+0.01*apart), high.t-0.01*apart)
		}
		r := at(t)
		if r.ok && math.Abs(r.over) < 1e-7 {
			return r, r
		}
		if r.met() {
			high = r
			if side > 0 {
				low.over /= 2
			}
			side = 1
			continue
		}
		low = r
		if side < 0 {
			high.over /= 2
		}
		side = -1
	}
	return low, high
}
