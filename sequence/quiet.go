package sequence

// The quiet between moves: what a rehearsal of the moves may pass over.

import (
	"slices"
	"time"
)

// How near to what hands and ears are needed for a rehearsal of the moves keeps to
// real time, and the least that is worth passing over.
const (
	handsAfter  = 20 * time.Second // a change of bath, or a cue that matters here
	handsBefore = 10 * time.Second // such a cue; the first is the ready 20 s before a move
	practised   = time.Minute      // of an agitation that began with the bath, at most
	worthIt     = 10 * time.Second
	fading      = 2200 * time.Millisecond // a cue so long before would still be heard, late
	coming      = time.Second             // and one so soon after could not be told in time
)

// routine are the cues of work that goes on through a bath; a rehearsal of the moves
// does the beginning of it, one whole round or what the agitation begins with.
var routine = []CueKind{CueTick, CueTurn, CueAgitate, CueRest, CueReverse}

// Quiet tells to what instant nothing but routine is to be done. False: there is
// something to do, or too soon to pass anything over.
func (s State) Quiet(now Elapsed) (Elapsed, bool) {
	if !s.began || s.over != "" || now < 0 || s.moves.held || s.moves.overdue || s.ahead.edge.at == Never {
		return 0, false
	}
	if busy := s.busyUntil(now); now < busy || s.practising(now, busy-handsAfter) {
		return 0, false
	}
	to := s.ahead.edge.at - handsBefore
	for _, c := range s.ahead.cues[s.ahead.next:] {
		if !slices.Contains(routine, c.Kind) {
			to = min(to, c.At-handsBefore)
		}
	}
	to = s.unheard(to, now+worthIt)
	return to, to >= now+worthIt
}

// busyUntil is when the hands have done with what was last up to now.
func (s State) busyUntil(now Elapsed) Elapsed {
	last := Elapsed(0)
	for _, y := range s.moves.film {
		for _, at := range []Elapsed{y.in, y.out} {
			if at != Never && at <= now {
				last = max(last, at)
			}
		}
	}
	for _, c := range s.given.cues {
		if !slices.Contains(routine, c.Kind) {
			last = max(last, c.At)
		}
	}
	return last + handsAfter
}

// practising reports whether the hands are still at the first round of turns in this
// bath, or at what its agitation begins with, since they last moved film.
func (s State) practising(now, since Elapsed) bool {
	if from := s.ahead.edge.from; from >= 0 && s.turned != nil && s.turned[from].count > 0 && s.turned[from].count < s.plan.Sheets {
		return true
	}
	for _, c := range s.ahead.cues[s.ahead.next:] {
		if c.Kind == CueAgitate || c.Kind == CueRest {
			return c.Kind == CueRest && now < since+practised
		}
	}
	return false
}

// unheard moves an instant back until no cue is so near that it would be heard late.
func (s State) unheard(to, least Elapsed) Elapsed {
	list := s.ahead.cues[s.ahead.next:]
	for i := len(list) - 1; i >= 0 && to >= least; i-- {
		if at := list[i].At; at > to-fading && at < to+coming {
			to = at - coming
		}
	}
	return to
}
