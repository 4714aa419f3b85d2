package main

// A session with all that belongs to it: clock, journal, sound. Plain mode and
// the screens both begin and take up sessions here.

import (
	"context"
	"fmt"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/room"
)

// carried is a session being carried out.
type carried struct {
	*live.Session
	id     string
	factor float64 // of a rehearsal; 0 for none
	first  int     // records that were there before
	out    *sound
	store  journal.Store
	sleep  atomic.Value // string: whether the laptop is kept awake, "" while it is not known
	book   func()       // what it did to the baths kept, once it is over
	booked sync.Once
}

// beginSession begins a plan, lead before the first dip. A factor of 0 is no
// rehearsal. In the dark there are only ears: without sound a session with a dark
// step is refused, unless mute says that it is meant.
func (p *program) beginSession(plan *sequence.Plan, by aloud, factor float64, lead time.Duration, mute bool) (*carried, error) {
	watch := clock.New(p.source, -lead, pace(factor))
	store := journal.Default()
	id := store.NewID(watch.Mark().Wall.Local(), plan.Recipe.Film.Name)
	out, err := p.openSound(by.sound, watch)
	if err != nil {
		return nil, err
	}
	if factor == 0 && plan.HasDark() && !mute && !out.sink.Sounding() {
		defer out.close()
		return nil, fmt.Errorf("%s: a session with a dark step needs sound; --sound off if it is meant", out.sink.State())
	}
	watch.Set(-lead)
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.ear, At: -lead,
		First:   sequence.Begin{ID: id, Version: version},
		Record0: journal.Record{Plan: plan, Rehearsal: factor}})
	if err != nil {
		out.close()
		return nil, err
	}
	s.Keep(store, id, nil)
	out.speak(by.voice, s, 0)
	out.watch(s)
	c := &carried{Session: s, id: id, factor: factor, out: out, store: store, book: func() { p.bookNow(plan, id) }}
	c.stayAwake(p.keepAwake)
	return c.answering(), nil
}

// pace is how fast the clock runs.
func pace(factor float64) float64 {
	if factor == 0 {
		return 1
	}
	return factor
}

// away is how long without a record makes a gap, in real time.
const away = 10 * time.Second

// takeUpSession goes on with a session that was cut off, if allowed says so.
func (p *program) takeUpSession(id string, by aloud, allowed func(*sequence.Plan, bool) error) (*carried, error) {
	store := journal.Default()
	w, kept, err := takeOver(store, id)
	if err != nil {
		return nil, err
	}
	plan, factor := kept.First().Plan, kept.First().Rehearsal
	if err := allowed(plan, factor > 0); err != nil {
		w.Close()
		return nil, err
	}
	anchor := kept.Anchor()
	watch, res := clock.Resume(p.source, anchor, pace(factor))
	out, err := p.openSound(by.sound, watch)
	if err != nil {
		w.Close()
		return nil, err
	}
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.ear, Records: kept.Records, At: watch.Mark().Elapsed,
		First: sequence.Resume{From: anchor.Elapsed, Gap: res.Gap > away, Ask: res.Certainty != clock.Exact, Text: certainty(res)}})
	if err != nil {
		out.close()
		w.Close()
		return nil, err
	}
	s.Keep(store, id, w)
	out.speak(by.voice, s, len(kept.Records))
	out.watch(s)
	c := &carried{Session: s, id: id, factor: factor, first: len(kept.Records), out: out, store: store,
		book: func() { p.bookNow(plan, id) }}
	c.stayAwake(p.keepAwake)
	return c.answering(), nil
}

// answerEvery is how often it is looked whether another wetside asks for the session.
const answerEvery = time.Second

// answering hands the session over when another wetside asks for it.
func (c *carried) answering() *carried {
	go func() {
		tick := time.NewTicker(answerEvery)
		defer tick.Stop()
		for {
			select {
			case <-tick.C:
				if sessionAskedFor(c.store, c.id) {
					handOver(c.Session)
					return
				}
			case <-c.Ended():
				return
			}
		}
	}()
	return c
}

// writing bounds how long the record of the laptop's going to sleep may take: the
// system does not wait for longer.
const writing = 1500 * time.Millisecond

// stayAwake keeps the laptop awake while the session runs, records whether that was
// granted, and, should the laptop sleep all the same, that it does before it does.
func (c *carried) stayAwake(keep func(room.Waking) io.Closer) {
	c.sleep.Store("")
	awake := keep(room.Waking{
		Dark: c.State().Plan().HasDark(),
		Told: func(text string, blocked bool) {
			c.sleep.Store("sleep " + text)
			c.Do(sequence.Tell{Kind: sequence.SleepTold, Text: text})
		},
		Sleeping: func() {
			if c.Ask(sequence.Tell{Kind: sequence.Suspending}) == nil {
				ctx, cancel := context.WithTimeout(context.Background(), writing)
				defer cancel()
				c.Kept(ctx)
			}
		},
	})
	go func() {
		<-c.Ended()
		awake.Close()
	}()
}

// end ends the session's sound, after what is scheduled has been heard where the
// session came to its end, closes its journal, and books what it did to the baths.
func (c *carried) end() {
	if c.State().Over() != "" {
		c.out.finish()
	}
	c.Close()
	c.out.close()
	c.bookOver()
}

// bookOver books a session that has come to its end, once, whoever asks.
func (c *carried) bookOver() {
	if c.State().Over() != "" && c.factor == 0 {
		c.booked.Do(c.book)
	}
}
