package chem

// Fixing: how long, from the time that a strip of the film takes to clear, and
// when the fixer is spent.
//
// Fixer gives off sulfur dioxide, more where acid is carried in, and holds
// silver when used: air the room, collect it; the maker's safety data sheet
// and local rules come first.

import (
	"fmt"
	"math"
	"time"
)

// MaxFixing is the longest sensible time in a fixer: one that needs more
// is to be replaced. Source: USAF T.O. 33B-1-1 p. 6-77.
const MaxFixing = 15 * time.Minute

// FixTime returns the time in each fixing bath for a measured clearing time:
// one bath twice the clearing time, two or more baths one clearing time each.
// Tabular emulsions, by the person's choice, take three times in one bath and
// half as much again in each of several (common practice, no source). Spent is
// set where a bath would need over MaxFixing. It errs for a clearing time
// that is not above zero.
//
// Source: NAVEDTRA 14209 (1993) p. 249; USAF T.O. 33B-1-1 p. 6-77.
func FixTime(clearing time.Duration, baths int, tabular bool) (each time.Duration, spent bool, err error) {
	if clearing <= 0 || clearing > MaxDuration {
		return 0, false, fmt.Errorf("clearing time: %v; expected above zero and at most 1000 h", clearing)
	}
	if baths < 1 {
		return 0, false, fmt.Errorf("fixing: %d baths; expected at least one", baths)
	}
	factor := 2.0
	if tabular {
		factor = 3
	}
	if baths > 1 {
		factor /= 2
	}
	each = time.Duration(math.Round(factor * float64(clearing)))
	return each, each > MaxFixing, nil
}

// FixerExhausted reports whether a fixer is used up: it takes twice as long to
// clear as when fresh, or longer. It is false where the fresh time is unknown
// (zero).
//
// Source: NAVEDTRA 14209 p. 249.
func FixerExhausted(fresh, now time.Duration) bool { return fresh > 0 && now-fresh >= fresh }

// ClearingAt is the clearing time at another temperature than the test's, as ColdFixFactor says of both.
func ClearingAt(clearing time.Duration, test, at Celsius) time.Duration {
	return time.Duration(math.Round(float64(clearing) * ColdFixFactor(at) / ColdFixFactor(test)))
}

// AreaByClearing is how much film a fixer serves in all by its clearing times: fresh, and now after an area. The time is
// taken to grow evenly with the area up to twice the fresh one (our own reading of NAVEDTRA 14209 p. 249). False
// where it has not grown.
func AreaByClearing(fresh, now time.Duration, area float64) (float64, bool) {
	if fresh <= 0 || now <= fresh || !(area > 0) {
		return 0, false
	}
	return area * float64(fresh) / float64(now-fresh), true
}

// ColdFixFactor is how many times as long fixing takes in the cold: it doubles for
// each 18 F below 68 F, and is 1 from there up.
//
// Source: US Army TM 11-2323 para 33c: twice at 50 F, four times at 32 F.
func ColdFixFactor(t Celsius) float64 { return math.Exp2(max(0, (68-t.Fahrenheit())/18)) }
