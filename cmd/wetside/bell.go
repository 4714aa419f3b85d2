package main

// The terminal's bell stands in for cues that nobody hears.

import (
	"context"
	"math"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/live"
)

// ringing rings at each cue while there is no sound. Cues of one instant ring once.
func (c *carried) ringing(ring func()) {
	c.Follow("bell", c.first, func(ctx context.Context, log *live.Cursor) error {
		last := sequence.Elapsed(math.MinInt64)
		for {
			r, ok := log.Next(ctx)
			if !ok {
				return nil
			}
			if r.Event.At != last && !c.out.sink.Sounding() && rings(r.Event, c.Look(), c.factor > 0) {
				ring()
				last = r.Event.At
			}
		}
	})
}

// rings reports whether an event is one for the bell. A tick asks for nothing. Some
// terminals flash instead of ringing, so it is still wherever film could be open.
func rings(e sequence.Event, l sequence.Look, rehearsal bool) bool {
	if e.Kind != sequence.CueGiven || e.Cue == sequence.CueTick {
		return false
	}
	return l.Light == sequence.White || l.Lit || rehearsal
}
