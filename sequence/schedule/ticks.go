package schedule

// Ticks: a sound in a long quiet, so that the person knows that all is well.

import (
	"time"

	"example.org/wetside/sequence"
)

const (
	tickEvery  = 15 * time.Second
	tickBefore = 5 * time.Second // a tick keeps this far from what comes next
)

// withTicks fills long quiets, so that the person knows that all is well and a
// loudspeaker does not go to sleep.
func (c *CueBuilder) withTicks(list []PlacedCue) []PlacedCue {
	if len(list) == 0 {
		return nil
	}
	var full []PlacedCue // where there is a tick
	quiet := c.LastHeard
	if quiet == sequence.Never {
		quiet = list[0].At
	}
	if c.OverrunUntil > 0 {
		quiet = max(quiet, c.OverdueSince) // "time is up" is soon said
	}
	for i, p := range list {
		if full == nil && nextInstant(quiet+tickEvery, tickEvery, c.From) <= p.At-tickBefore {
			full = append(make([]PlacedCue, 0, len(list)+len(list)/2), list[:i]...)
		}
		if full != nil {
			full = append(c.ticks(full, quiet, p.At, p.During), p)
		}
		quiet = p.At
	}
	if full == nil {
		return list
	}
	return full
}

// ticks adds those of a quiet that began at from and lasts until a moment.
func (c *CueBuilder) ticks(list []PlacedCue, from, until sequence.Elapsed, during int) []PlacedCue {
	for at := nextInstant(from+tickEvery, tickEvery, c.From); at <= until-tickBefore; at += tickEvery {
		list = append(list, PlacedCue{sequence.Cue{At: at, Kind: sequence.CueTick, Step: c.stepAt(at)}, during})
	}
	return list
}
