package running

// The terminal's bell stands in for cues that nobody hears.

import (
	"context"
	"math"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/live"
)

// RingBell rings at each cue while there is no sound. Cues of one instant ring once.
func (c *RunningSession) RingBell(ring func()) {
	c.Follow("bell", c.FirstRecord, func(ctx context.Context, log *live.Cursor) error {
		last := sequence.Elapsed(math.MinInt64)
		for {
			r, ok := log.Next(ctx)
			if !ok {
				return nil
			}
			if r.Event.At != last && !c.Audio.Sink.Sounding() && ringsBell(r.Event, c.Snapshot(), c.Factor > 0) {
				ring()
				last = r.Event.At
			}
		}
	})
}

// ringsBell reports whether an event is one for the bell. A tick asks for nothing. Some
// terminals flash instead of ringing, so it is still wherever film could be open.
func ringsBell(e sequence.Event, l engine.Snapshot, rehearsal bool) bool {
	if e.Kind != sequence.CueGiven || e.Cue == sequence.CueTick {
		return false
	}
	return l.Light == sequence.White || l.LightOn || rehearsal
}
