// Package running is a session with all that belongs to it in this process: clock, journal,
// sound, thermometer, the laptop kept awake. Plain mode and the screens both use it.
//
// Start with Begin and TakeUp. The rules of a session are in sequence/engine, its loop in
// sequence/live: nothing is decided here.
package running

// A session with all that belongs to it: clock, journal, sound. Plain mode and
// the screens both begin and take up sessions here.

import (
	"cmp"
	"context"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/room"
)

// RunningSession is a session being carried out.
type RunningSession struct {
	*live.Session
	SessionID string
	Rehearsal
	FirstRecord int // records that were there before
	Audio       *Sound
	store       journal.Store
	SleepState  atomic.Value // string: whether the laptop is kept awake, "" while it is not known
	bookBottles func()       // what it did to the baths kept, once it is over
	bookOnce    sync.Once
	HandedOver  atomic.Bool // another wetside was given it
}

// Rehearsal is how a session is practised without film.
type Rehearsal struct {
	Factor    float64 // times as fast; 0 for no rehearsal
	MovesOnly bool    // passes over the quiet between moves
	InDark    bool    // without light, as with film
}

// MayLight reports whether it is a rehearsal that may have light whatever the room has.
func (r Rehearsal) MayLight() bool { return r.Factor > 0 && !r.InDark }

// clockRate is how fast the clock runs.
func clockRate(factor float64) float64 { return cmp.Or(factor, 1) }

// SuspendWriteLimit bounds how long the record of the laptop's going to sleep may take: the
// system does not wait for longer.
const SuspendWriteLimit = 1500 * time.Millisecond

// keepAwake keeps the laptop awake while the session runs, records whether that was
// granted, and, should the laptop sleep all the same, that it does before it does.
func (c *RunningSession) keepAwake(keep func(room.AwakeOptions) io.Closer) {
	c.SleepState.Store("")
	awake := keep(room.AwakeOptions{
		Dark: c.State().Plan().HasDark(),
		OnState: func(text string, blocked bool) {
			c.SleepState.Store("sleep " + text)
			c.Do(sequence.Report{Kind: sequence.SleepReported, Text: text})
		},
		BeforeSleep: func() {
			if c.Ask(sequence.Report{Kind: sequence.SuspendAnnounced}) == nil {
				ctx, cancel := context.WithTimeout(context.Background(), SuspendWriteLimit)
				defer cancel()
				c.WaitUntilSaved(ctx)
			}
		},
	})
	go func() {
		<-c.Ended()
		awake.Close()
	}()
}

// End ends the session's sound, after what is scheduled has been heard where the
// session came to its end, closes its journal, and books what it did to the baths.
func (c *RunningSession) End() {
	if c.State().Over() != "" {
		c.Audio.finish()
	}
	c.Close()
	c.Audio.Close()
	c.BookBottles()
}

// BookBottles books a session that has come to its end, once, whoever asks.
func (c *RunningSession) BookBottles() {
	if c.State().Over() != "" && c.Factor == 0 {
		c.bookOnce.Do(c.bookBottles)
	}
}
