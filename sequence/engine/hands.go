package engine

// What the hands do at a moment, computed from the state.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Hands is what the hands do at a moment; false before the first sheet is in, and when
// the last is out.
func (s State) Hands(now sequence.Elapsed) (sequence.Hand, bool) {
	if s.over != "" || !bathed(s.filmState) {
		return sequence.Hand{}, false
	}
	laid, asked := s.layOutBoth(s.floor(now))
	c := s.score(laid, asked, now)
	if c.OverrunUntil > 0 {
		c.OverrunUntil = now + schedule.HandsAhead
	}
	list := c.Hands(func(start, end sequence.Elapsed) bool {
		return start <= now && (now <= end+schedule.Momentary || c.OverrunUntil > 0)
	})
	i := slices.IndexFunc(list, func(h sequence.Hand) bool { return h.At <= now && now < h.Until })
	if i < 0 {
		return sequence.Hand{}, false
	}
	return list[i], true
}
