package running

// A rehearsal of the transfers: the quiet between them is passed over.

import (
	"time"

	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

// skipQuietEvery is how often it is looked whether there is quiet to pass over.
const skipQuietEvery = 200 * time.Millisecond

// skipQuiet passes over the quiet between moves, if the rehearsal is of the moves, and
// says by how much.
func (c *RunningSession) skipQuiet(watch *clock.Running) *RunningSession {
	if !c.MovesOnly {
		return c
	}
	go func() {
		tick := time.NewTicker(skipQuietEvery)
		defer tick.Stop()
		for {
			select {
			case <-tick.C:
				now := watch.Mark().Elapsed
				if to, ok := c.State().QuietUntil(now); ok {
					watch.Skip(to)
					c.Audio.Ear.Say(cue.SkippedPhrase(to - now))
				}
			case <-c.Ended():
				return
			}
		}
	}()
	return c
}
