package chem

// How to wash down to a residual: the changes that keep film wet for the shortest time, or how long in
// running water; and what a plan takes where nobody measured.

import (
	"math"
	"sort"
	"time"
)

// FixerStrength is how much thiosulfate ion a fixer is taken to hold in g/l, where nobody says: that of a
// strong rapid fixer (memory).
const FixerStrength = 160.0

// CarryOverOf is what film and vessel are taken to keep of a bath when it is poured off, without the gelatin:
// as much on the film as in it, and 6 ml of each 500 that the vessel holds (Torzynski 2004).
func CarryOverOf(volume Millilitres, squareInches float64) Millilitres {
	return GelatinVolume*Millilitres(SquareMetres(squareInches)) + volume*6/500
}

// changeTime is what filling and pouring off take (common practice, no source).
const changeTime = 20 * time.Second

// shortestStand and longestStand bound how long a change stands: what goes on in a shorter one depends on
// how it is moved (our own rule).
const (
	shortestStand = time.Minute
	longestStand  = 30 * time.Minute
	standStep     = 15 * time.Second
)

// WashSchedule is a wash in equal changes.
type WashSchedule struct {
	Changes int           `json:"changes"`
	Stand   time.Duration `json:"stand_s"`  // of each
	Wet     time.Duration `json:"wet_s"`    // in all, with filling and pouring off
	Water   Millilitres   `json:"water_ml"` // in all
	Left    float64       `json:"left"`     // by Total
}

// ScheduleOf is a wash in n equal changes that takes a time in all.
func (b WashBath) ScheduleOf(l Left, n int, wet time.Duration) WashSchedule {
	return b.schedule(l, n, max(0, wet/time.Duration(n)-changeTime))
}

func (b WashBath) schedule(l Left, n int, stand time.Duration) WashSchedule {
	return WashSchedule{n, stand, time.Duration(n) * (stand + changeTime), b.Volume * Millilitres(n), b.Total(b.Changes(l, n, stand))}
}

// Shortest is the wash in equal changes that leaves no more than a fraction and keeps film wet for the
// shortest time, of at most so many changes, the fewest of those that take as long; false where none does.
func (b WashBath) Shortest(l Left, most int, leaves float64) (best WashSchedule, ok bool) {
	for n := 1; n <= min(most, maxChanges); n++ {
		stand, can := b.standFor(l, n, leaves)
		if !can {
			continue
		}
		if wet := time.Duration(n) * (stand + changeTime); !ok || wet < best.Wet {
			best, ok = b.schedule(l, n, stand), true
		}
		if stand == shortestStand {
			break // from here on only more water
		}
	}
	return best, ok
}

// FewestChanges is how many changes of a time leave no more than a fraction; false where a thousand do not.
func (b WashBath) FewestChanges(l Left, stand time.Duration, leaves float64) (int, bool) {
	for n := 0; n <= maxChanges; n++ {
		if b.Total(l) <= leaves {
			return n, true
		}
		l = b.Change(l, stand)
	}
	return 0, false
}

// standFor is how long each of n changes must stand, in whole 15 s: a longer one leaves less.
func (b WashBath) standFor(l Left, n int, leaves float64) (time.Duration, bool) {
	const steps = int((longestStand - shortestStand) / standStep)
	at := func(i int) time.Duration { return shortestStand + time.Duration(i)*standStep }
	i := sort.Search(steps+1, func(i int) bool { return b.Total(b.Changes(l, n, at(i))) <= leaves })
	return at(i), i <= steps
}

// InRunning is film put into water that is renewed so many times a minute, for a time: what was carried over
// is thinned first.
func (b WashBath) InRunning(l Left, d time.Duration, renewals float64) Left {
	l.Water *= float64(b.CarryOver / b.Volume)
	return b.Run(l, d, renewals)
}

// RunningTime is how long in water renewed so many times a minute leaves no more than a fraction, in whole
// 15 s; false where four hours do not.
func (b WashBath) RunningTime(l Left, renewals, leaves float64) (time.Duration, bool) {
	const steps = int(4 * time.Hour / standStep)
	i := sort.Search(steps+1, func(i int) bool {
		return b.Total(b.InRunning(l, time.Duration(i)*standStep, renewals)) <= leaves
	})
	return time.Duration(i) * standStep, i <= steps
}

// FractionFor is the fraction, by Total, that may be left where a residual in g/m2 of one side is the most
// and the fixer has a strength; 1 at most.
func (b WashBath) FractionFor(residual, strength, squareInches float64) float64 {
	unwashed, err := b.Thiosulfate(Unwashed, strength, squareInches)
	if err != nil {
		return math.NaN()
	}
	return min(1, residual/unwashed)
}
