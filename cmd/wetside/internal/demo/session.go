// Package demo is an invented notebook of the Saltmarsh harbour darkroom: sessions that the
// program's own engine decides moment by moment and keeps, and densities that an invented film
// would have given them.
//
// Start with Keep and Read. What the notebook tells, and where it lies, is the command's.
package demo

// A session carried out in no time: what is due is done at its moment.

import (
	"errors"
	"slices"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// Moment is what a hand did in a session.
type Moment struct {
	At time.Duration
	sequence.Command
}

// Keep carries out a session that began then, with what the hands did in order, and keeps it.
func Keep(store journal.Store, r sequence.Recipe, c sequence.Conditions, began time.Time, moments ...Moment) (id string, err error) {
	plan, err := planning.Resolve(r, c)
	if err != nil {
		return "", err
	}
	state, err := engine.NewState(&plan)
	if err != nil {
		return "", err
	}
	id = store.NewID(began, r.Film.Name)
	begun := engine.Decide(state, sequence.Begin{ID: id, Version: app.Version}, 0)
	written := say.InWords(plan)
	w, err := store.Create(id, journal.Record{Plan: &written, Clock: clock.Mark{Wall: began}, Event: begun[0]})
	if err != nil {
		return "", err
	}
	k := &keeping{w: w, state: engine.Apply(state, begun[0]), began: began, seq: 1}
	k.keep(begun[1:], 0)
	for _, m := range moments {
		k.until(m.At)
		k.keep(engine.Decide(k.state, m.Command, m.At), m.At)
	}
	k.until(24 * time.Hour)
	if k.err == nil && k.state.Over() == "" {
		k.err = errors.New("demo: a session does not end")
	}
	return id, errors.Join(k.err, w.Close())
}

// keeping is a session while it is carried out and kept.
type keeping struct {
	w     *journal.Writer
	state engine.State
	began time.Time
	seq   int
	err   error
}

func (k *keeping) keep(events []sequence.Event, now time.Duration) {
	for _, e := range events {
		if k.err == nil {
			k.err = k.w.Append(journal.Record{Seq: k.seq, Event: e, Clock: clock.Mark{Elapsed: now, Wall: k.began.Add(now)}})
		}
		k.state = engine.Apply(k.state, e)
		k.seq++
	}
}

// until lets happen what is due before a moment.
func (k *keeping) until(now time.Duration) {
	for at, due := k.state.Due(); due && at < now && k.err == nil && k.state.Over() == ""; at, due = k.state.Due() {
		k.keep(engine.Decide(k.state, sequence.Wake{}, at), at)
	}
}

// pullTimes are the developing times of a film test's sheets, the shortest first; nil for a
// recipe that is none.
func pullTimes(r *sequence.Recipe) []time.Duration {
	for _, st := range r.Steps {
		if len(st.PullTimes) > 0 {
			return slices.Sorted(slices.Values(st.PullTimes))
		}
	}
	return nil
}
