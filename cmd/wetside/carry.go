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
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/room"
)

// carried is a session being carried out.
type carried struct {
	*live.Session
	id string
	rehearsal
	first  int // records that were there before
	out    *sound
	store  journal.Store
	sleep  atomic.Value // string: whether the laptop is kept awake, "" while it is not known
	book   func()       // what it did to the baths kept, once it is over
	booked sync.Once
	handed atomic.Bool // another wetside was given it
}

// rehearsal is how a session is practised without film.
type rehearsal struct {
	factor float64 // times as fast; 0 for no rehearsal
	moves  bool    // passes over the quiet between moves
	dark   bool    // without light, as with film
}

// beginSession begins a plan, lead before the first dip. In the dark there are only ears: without sound a session with a dark
// step is refused, unless mute says that it is meant. Begins is told of the session before its first record is written.
func (p *program) beginSession(plan *sequence.Plan, by aloud, practice rehearsal, lead time.Duration, mute bool, begins tidings) (*carried, error) {
	watch := clock.New(p.source, -lead, pace(practice.factor))
	store := journal.Default()
	id := store.NewID(watch.Mark().Wall.Local(), plan.Recipe.Film.Name)
	out, err := p.openSound(by.sound, watch)
	if err != nil {
		return nil, err
	}
	if practice.factor == 0 && plan.HasDark() && !mute && !out.sink.Sounding() {
		defer out.close()
		return nil, fmt.Errorf("%s: a session with a dark step needs sound; --sound off if it is meant", out.sink.State())
	}
	watch.Set(-lead)
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.ear, At: -lead,
		First:   sequence.Begin{ID: id, Version: version},
		Record0: journal.Record{Plan: plan, Rehearsal: practice.factor, Moves: practice.moves, Dark: practice.dark}})
	if err != nil {
		out.close()
		return nil, err
	}
	begins(id, practice)
	s.Keep(store, id, nil)
	out.speak(by.voice, s, 0)
	out.watch(s)
	c := &carried{Session: s, id: id, rehearsal: practice, out: out, store: store, book: func() { p.bookNow(plan, id) }}
	c.stayAwake(p.keepAwake)
	return c.hurried(watch).answering(), nil
}

// tidings takes which session is about to be carried out.
type tidings func(id string, practice rehearsal)

// lit reports whether it is a rehearsal that may have light whatever the room has.
func (r rehearsal) lit() bool { return r.factor > 0 && !r.dark }

// pace is how fast the clock runs.
func pace(factor float64) float64 {
	if factor == 0 {
		return 1
	}
	return factor
}

// away is how long without a record makes a gap, in real time.
const away = 10 * time.Second

// takeUpSession goes on with a session that was cut off, if allowed says so. Begins is told of it before it goes on.
func (p *program) takeUpSession(id string, by aloud, allowed func(*sequence.Plan, bool) error, begins tidings) (*carried, error) {
	store := journal.Default()
	w, kept, err := takeOver(store, id)
	if err != nil {
		return nil, err
	}
	zero := kept.First()
	plan, practice := zero.Plan, rehearsal{zero.Rehearsal, zero.Moves, zero.Dark}
	if err := allowed(plan, practice.lit()); err != nil {
		w.Close()
		return nil, err
	}
	anchor := kept.Anchor()
	watch, res := clock.Resume(p.source, anchor, pace(practice.factor))
	out, err := p.openSound(by.sound, watch)
	if err != nil {
		w.Close()
		return nil, err
	}
	begins(id, practice) // and should it not go on, it is cut off still
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
	c := &carried{Session: s, id: id, rehearsal: practice, first: len(kept.Records), out: out, store: store,
		book: func() { p.bookNow(plan, id) }}
	c.stayAwake(p.keepAwake)
	return c.hurried(watch).answering(), nil
}

// hurryEvery is how often it is looked whether there is quiet to pass over.
const hurryEvery = 200 * time.Millisecond

// hurried passes over the quiet between moves, if the rehearsal is of the moves, and
// says by how much.
func (c *carried) hurried(watch *clock.Running) *carried {
	if !c.moves {
		return c
	}
	go func() {
		tick := time.NewTicker(hurryEvery)
		defer tick.Stop()
		for {
			select {
			case <-tick.C:
				now := watch.Mark().Elapsed
				if to, ok := c.State().Quiet(now); ok {
					watch.Skip(to)
					c.out.ear.Say(cue.Later(to - now))
				}
			case <-c.Ended():
				return
			}
		}
	}()
	return c
}

// answerEvery is how often it is looked whether another wetside asks for the session.
const answerEvery = time.Second

// answering hands the session over when another wetside asks for it.
func (c *carried) answering() *carried {
	go func() {
		for {
			select {
			case <-time.After(answerEvery):
				if sessionAskedFor(c.store, c.id) {
					c.handed.Store(true)
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
