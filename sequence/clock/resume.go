package clock

// Taking up a session: from the last mark in its journal to the elapsed time
// now, and how far that is to be believed.

import (
	"math"
	"time"
)

// Certainty says how far a resumed clock is to be believed.
type Certainty string

// The certainties.
const (
	Exact     Certainty = "exact"     // same boot: counted through
	Estimated Certainty = "estimated" // another boot: by the wall clock, which contradicts nothing
	Unknown   Certainty = "unknown"   // another boot, and the wall clock cannot be right
)

// Unbounded stands for the latest possible time where none is known: a hundred
// years, which JSON can say.
const Unbounded = 100 * 365 * 24 * time.Hour

// The wall clock after a boot comes from a battery clock that is read to the
// whole second and whose crystal is off by some parts in a hundred thousand
// (from memory; both allowances are ours and generous).
const (
	wallGrace = 2 * time.Second
	wallDrift = 200e-6
)

// Resumption is what is known after taking up a session.
type Resumption struct {
	Certainty Certainty
	Now       Mark          // Elapsed is the best estimate, from which the clock goes on
	Earliest  time.Duration // elapsed time is this at least
	Latest    time.Duration // and this at most; Unbounded where unknown
	Slept     time.Duration // how long the laptop slept since the anchor; 0 across boots
	Gap       time.Duration // real time since the anchor, as estimated
}

// Resume goes on from anchor, the last mark that the journal kept. In the same
// boot elapsed time is exact. After another boot at least the time since that
// boot has passed; the wall clock gives the estimate where it does not
// contradict this, and the person has to be asked. The factor is the one the
// session began with; elapsed time has gone on that many times as fast.
func Resume(source Source, anchor Mark, factor float64) (*Running, Resumption) {
	now := source.Read()
	r := begin(source, now, anchor.Elapsed, factor)
	res := compareMarks(anchor, now)
	elapsed := func(real time.Duration) time.Duration {
		if real == Unbounded {
			return Unbounded
		}
		return anchor.Elapsed + scale(real, r.factor)
	}
	res.Earliest, res.Latest = elapsed(res.Earliest), elapsed(res.Latest)
	res.Now.Elapsed = elapsed(res.Gap)
	r.from.Elapsed, r.highest = res.Now.Elapsed, res.Now.Elapsed
	return r, res
}

// compareMarks compares two marks; its times are real ones since the anchor.
func compareMarks(anchor, now Mark) Resumption {
	if SameBoot(anchor, now) {
		passed := Passed(anchor, now)
		return Resumption{Certainty: Exact, Now: now, Earliest: passed, Latest: passed, Gap: passed,
			Slept: Slept(anchor, now)}
	}
	least := now.Boottime
	if anchor.Boot == now.Boot {
		least = 0 // one boot whose clock went back: it says nothing
	}
	byWall := now.Wall.Sub(anchor.Wall)
	grace := wallGrace + time.Duration(math.Abs(float64(byWall))*wallDrift)
	if anchor.Wall.IsZero() || byWall < least-grace {
		return Resumption{Certainty: Unknown, Now: now, Earliest: least, Latest: Unbounded, Gap: least}
	}
	best := max(byWall, least)
	return Resumption{Certainty: Estimated, Now: now, Earliest: least, Latest: best + grace, Gap: best}
}
