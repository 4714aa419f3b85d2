package engine

// The quiet between moves: what a rehearsal of the moves may pass over.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// How near to what hands and ears are needed for a rehearsal of the moves keeps to
// real time, and the least that is worth passing over.
const (
	handsAfter  = 20 * time.Second // a change of bath, or a cue that matters here
	handsBefore = 10 * time.Second // such a cue; the first is the ready 20 s before a move
	practiseFor = time.Minute      // of an agitation that began with the bath, at most
	leastSkip   = 10 * time.Second
	stillHeard  = 2200 * time.Millisecond // a cue so long before would still be heard, late
	tooSoon     = time.Second             // and one so soon after could not be told in time
)

// routine are the cues of work that goes on through a bath; a rehearsal of the moves
// does the beginning of it, one whole round or what the agitation begins with.
var routine = []sequence.CueKind{sequence.CueTick, sequence.CueShuffle, sequence.CueAgitate, sequence.CueStand, sequence.CueReverse}

// QuietUntil tells to what instant nothing but routine is to be done. False: there is
// something to do, or too soon to pass anything over.
func (s State) QuietUntil(now sequence.Elapsed) (sequence.Elapsed, bool) {
	if s.filmState.held || s.forecastNow.change.at == sequence.Never {
		return 0, false
	}
	if busy := busyUntil(s, now); now < busy || practising(s, now, busy-handsAfter) {
		return 0, false
	}
	to := s.forecastNow.change.at - handsBefore
	for _, c := range s.forecastNow.cues[s.forecastNow.next:] {
		if !slices.Contains(routine, c.Kind) {
			to = min(to, c.At-handsBefore)
		}
	}
	to = unheard(s, to, now+leastSkip)
	return to, to >= now+leastSkip
}

// busyUntil is when the hands have done with what was last up to now.
func busyUntil(s State, now sequence.Elapsed) sequence.Elapsed {
	last := sequence.Elapsed(0)
	for _, y := range s.filmState.film {
		for _, at := range []sequence.Elapsed{y.In, y.Out} {
			if at <= now {
				last = max(last, at)
			}
		}
	}
	for _, c := range s.givenCues.cues {
		if !slices.Contains(routine, c.Kind) {
			last = max(last, c.At)
		}
	}
	return last + handsAfter
}

// practising reports whether the hands are still at the first round of turns in this
// bath, or at what its agitation begins with, since they last moved film.
func practising(s State, now, since sequence.Elapsed) bool {
	if from := s.forecastNow.change.from; from >= 0 && s.shuffles != nil && s.shuffles[from].Count > 0 && s.shuffles[from].Count < s.plan.Sheets {
		return true
	}
	for _, c := range s.forecastNow.cues[s.forecastNow.next:] {
		if c.Kind == sequence.CueAgitate || c.Kind == sequence.CueStand {
			return c.Kind == sequence.CueStand && now < since+practiseFor
		}
	}
	return false
}

// unheard moves an instant back until no cue is so near that it would be heard late.
func unheard(s State, to, least sequence.Elapsed) sequence.Elapsed {
	list := s.forecastNow.cues[s.forecastNow.next:]
	for i := len(list) - 1; i >= 0 && to >= least; i-- {
		if at := list[i].At; at > to-stillHeard && at < to+tooSoon {
			to = at - tooSoon
		}
	}
	return to
}
