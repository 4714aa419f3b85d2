package running

// A session begun, or taken up where it was cut off.

import (
	"fmt"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/say"
)

// Begin begins a plan, lead before the first sheet goes in. In the dark there are only ears: without sound a session with a dark
// step is refused, unless mute says that it is meant. Begins is told of the session before its first record is written.
func Begin(p *app.Env, plan *sequence.Plan, by SoundOptions, read Thermometer, practice Rehearsal, lead time.Duration, mute bool, begins OnStart) (*RunningSession, error) {
	watch := clock.New(p.Clock, -lead, clockRate(practice.Factor))
	store := journal.Default()
	w := store.Reserve(watch.Mark().Wall.Local(), plan.Recipe.Film.Name)
	id, begun := w.ID(), false
	defer func() {
		if !begun {
			w.Close()
		}
	}()
	out, err := OpenSound(p, by.Sink, watch)
	if err != nil {
		return nil, err
	}
	if practice.Factor == 0 && plan.HasDark() && !mute && !out.Sink.Sounding() {
		defer out.Close()
		return nil, fmt.Errorf("%s: a session with a dark step needs sound; --sound off if it is meant", out.Sink.State())
	}
	watch.Set(-lead)
	written := say.InWords(*plan)
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.Ear, At: -lead,
		FirstCommand: sequence.Begin{ID: id, Version: app.Version},
		FirstRecord:  journal.Record{Plan: &written, Rehearsal: practice.Factor, Moves: practice.MovesOnly, Dark: practice.InDark, Sensor: read.sensor()}})
	if err != nil {
		out.Close()
		return nil, err
	}
	begun = true
	begins(id, practice)
	s.KeepJournal(w)
	out.speak(by.Voice, s, 0)
	out.watchSink(s)
	c := &RunningSession{Session: s, SessionID: id, Rehearsal: practice, Audio: out, store: store, bookBottles: func() { p.BookSession(plan, id) }}
	c.keepAwake(p.KeepAwake)
	read.Follow(c)
	return c.skipQuiet(watch).watchHandover(), nil
}

// OnStart takes which session is about to be carried out.
type OnStart func(id string, practice Rehearsal)

// longestGap is how long without a record makes a gap, in real time.
const longestGap = 10 * time.Second

// TakeUp goes on with a session that was cut off, if allowed says so, and with the thermometer that it began with where no
// other is to be read. Begins is told of it before it goes on. Whoever else has it is asked for it.
func TakeUp(p *app.Env, id string, by SoundOptions, read Thermometer, allowed func(*sequence.Plan, bool) error, begins OnStart) (*RunningSession, error) {
	return takeUp(p, id, by, read, allowed, begins, true)
}

// TakeUpFree is TakeUp of a session that nobody has; nobody is asked for it.
func TakeUpFree(p *app.Env, id string, by SoundOptions, read Thermometer, begins OnStart) (*RunningSession, error) {
	return takeUp(p, id, by, read, func(*sequence.Plan, bool) error { return nil }, begins, false)
}

func takeUp(p *app.Env, id string, by SoundOptions, read Thermometer, allowed func(*sequence.Plan, bool) error, begins OnStart, asks bool) (*RunningSession, error) {
	store := journal.Default()
	w, kept, err := takeWithHandover(store, id, asks)
	if err != nil {
		return nil, err
	}
	zero := kept.First()
	plan, practice := zero.Plan, Rehearsal{zero.Rehearsal, zero.Moves, zero.Dark}
	if err := allowed(plan, practice.MayLight()); err != nil {
		w.Close()
		return nil, err
	}
	anchor := kept.Anchor()
	watch, res := clock.Resume(p.Clock, anchor, clockRate(practice.Factor))
	out, err := OpenSound(p, by.Sink, watch)
	if err != nil {
		w.Close()
		return nil, err
	}
	begins(id, practice) // and should it not go on, it is cut off still
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.Ear, Records: kept.Records, At: watch.Mark().Elapsed,
		FirstCommand: sequence.Resume{From: anchor.Elapsed, Gap: res.Gap > longestGap, Ask: res.Certainty != clock.Exact, Text: resumedText(res, kept)}})
	if err != nil {
		out.Close()
		w.Close()
		return nil, err
	}
	s.KeepJournal(w)
	out.speak(by.Voice, s, len(kept.Records))
	out.watchSink(s)
	c := &RunningSession{Session: s, SessionID: id, Rehearsal: practice, FirstRecord: len(kept.Records), Audio: out, store: store,
		bookBottles: func() { p.BookSession(plan, id) }}
	c.keepAwake(p.KeepAwake)
	read.orKept(zero.Sensor).Follow(c)
	return c.skipQuiet(watch).watchHandover(), nil
}
