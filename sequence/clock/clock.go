// Package clock measures a session's elapsed time so that laptop sleep, steps
// of the wall clock, network time and a restart of the program cannot bend it.
//
// For the engine, which starts with New and takes up with Resume, and for the
// journal, which keeps a Mark in every record. Time is read from a Source:
// System in the program, a Simulated one in tests. The package starts no
// goroutine, sets no timer, and never guesses in silence: what Resume cannot
// know it reports as an interval.
package clock

// The running clock: elapsed time from a source, N times as fast in a
// rehearsal. N appears nowhere else.

import (
	"math"
	"sync"
	"time"
)

// Clock tells elapsed time: process time since the first sheet went in, negative during
// the lead. Elapsed time never runs backwards.
type Clock interface {
	// Mark is the present moment on every clock.
	Mark() Mark
	// Until is the real time from now until that elapsed instant; negative
	// when it is past.
	Until(elapsed time.Duration) time.Duration
}

// Running is a Clock that goes on from a known elapsed time. It may be used
// from several goroutines.
type Running struct {
	source Source
	factor float64 // process time for each unit of real time

	mu      sync.Mutex
	from    Mark          // where counting began; Elapsed as it was then
	highest time.Duration // elapsed time told so far
}

// New starts a clock that reads elapsed now, negative for a lead, and runs
// factor times as fast as real time. A factor that is not a positive finite
// number counts as 1.
func New(source Source, elapsed time.Duration, factor float64) *Running {
	return begin(source, source.Read(), elapsed, factor)
}

// Virtual is New on a fresh Simulated source over time.Now, for tests in a
// testing/synctest bubble.
func Virtual(elapsed time.Duration, factor float64) *Running {
	return New(NewSimulated(nil), elapsed, factor)
}

func begin(source Source, now Mark, elapsed time.Duration, factor float64) *Running {
	if !(factor > 0) || math.IsInf(factor, 0) {
		factor = 1
	}
	now.Elapsed = elapsed
	return &Running{source: source, factor: factor, from: now, highest: elapsed}
}

// Mark is the present moment.
func (r *Running) Mark() Mark {
	r.mu.Lock()
	defer r.mu.Unlock()
	now := r.source.Read()
	r.highest = max(r.highest, r.from.Elapsed+scale(Passed(r.from, now), r.factor))
	now.Elapsed = r.highest
	return now
}

// Until is the real time until an elapsed instant, rounded up, so that the
// instant has come once that time has passed.
func (r *Running) Until(elapsed time.Duration) time.Duration {
	left := elapsed - r.Mark().Elapsed
	if r.factor == 1 {
		return left
	}
	return time.Duration(math.Ceil(float64(left) / r.factor))
}

// Set corrects the clock to read elapsed now: what a person said after a
// restart that left the time in doubt. It is the one way to turn it back.
func (r *Running) Set(elapsed time.Duration) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.from = r.source.Read()
	r.from.Elapsed, r.highest = elapsed, elapsed
}

// Skip goes forward to an elapsed instant at once: a rehearsal passes over a quiet
// stretch. An instant that is past changes nothing.
func (r *Running) Skip(elapsed time.Duration) {
	r.mu.Lock()
	defer r.mu.Unlock()
	now := r.source.Read()
	if at := r.from.Elapsed + scale(Passed(r.from, now), r.factor); elapsed > max(at, r.highest) {
		r.from, r.highest = now, elapsed
		r.from.Elapsed = elapsed
	}
}

// scale is real time as process time. Whole nanoseconds are exact at factor 1,
// and up to 104 days at any other.
func scale(real time.Duration, factor float64) time.Duration {
	if factor == 1 {
		return real
	}
	return time.Duration(math.Round(float64(real) * factor))
}
