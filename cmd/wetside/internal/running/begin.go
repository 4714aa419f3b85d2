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
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/say"
)

// Begin begins a plan, lead before the first sheet goes in. In the dark there are only ears: without
// sound a session with a dark step is refused, unless mute says that it is meant. Begins is told of
// the session before its first record is written.
func Begin(p *app.Env, plan *sequence.Plan, by SoundOptions, read Thermometer, practice Rehearsal,
	lead time.Duration, mute bool, begins OnStart) (*RunningSession, error) {
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
	begins.tell(id, practice)
	c := &RunningSession{Session: s, SessionID: id, Rehearsal: practice, Audio: out, store: store}
	return c.equip(p, w, by.Voice, read, watch), nil
}

// OnStart takes which session is about to be carried out; nil tells nobody.
type OnStart func(id string, practice Rehearsal)

func (f OnStart) tell(id string, practice Rehearsal) {
	if f != nil {
		f(id, practice)
	}
}

// longestGap is how long without a record makes a gap, in real time.
const longestGap = 10 * time.Second

// Taking is how a session is taken up.
type Taking struct {
	Allowed    func(plan *sequence.Plan, lit bool) error // says whether it may go on; nil for always
	Begins     OnStart                                   // is told of it before it goes on
	FromNobody bool                                      // whoever else has it is not asked for it
}

// TakeUp goes on with a session that was cut off, and with the thermometer that it began with where
// no other is to be read.
func TakeUp(p *app.Env, id string, by SoundOptions, read Thermometer, how Taking) (*RunningSession, error) {
	store := journal.Default()
	w, kept, err := takeWithHandover(store, id, !how.FromNobody)
	if err != nil {
		return nil, err
	}
	zero := kept.First()
	plan, practice := zero.Plan, Rehearsal{zero.Rehearsal, zero.Moves, zero.Dark}
	if how.Allowed != nil {
		if err := how.Allowed(plan, practice.MayLight()); err != nil {
			w.Close()
			return nil, err
		}
	}
	anchor := kept.Anchor()
	watch, res := clock.Resume(p.Clock, anchor, clockRate(practice.Factor))
	out, err := OpenSound(p, by.Sink, watch)
	if err != nil {
		w.Close()
		return nil, err
	}
	how.Begins.tell(id, practice) // and should it not go on, it is cut off still
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.Ear, Records: kept.Records, At: watch.Mark().Elapsed,
		FirstCommand: sequence.Resume{From: anchor.Elapsed, Gap: res.Gap > longestGap, Ask: res.Certainty != clock.Exact, Text: resumedText(res, kept)}})
	if err != nil {
		out.Close()
		w.Close()
		return nil, err
	}
	c := &RunningSession{Session: s, SessionID: id, Rehearsal: practice, FirstRecord: len(kept.Records), Audio: out, store: store}
	return c.equip(p, w, by.Voice, read.orKept(zero.Sensor), watch), nil
}

// equip gives a session that goes on its journal, its voice, and all that looks after it.
func (c *RunningSession) equip(p *app.Env, w *journal.Writer, voice cue.Level, read Thermometer,
	watch *clock.Running) *RunningSession {
	c.KeepJournal(w)
	c.Audio.speak(voice, c.Session, c.FirstRecord)
	c.Audio.watchSink(c.Session)
	c.bookBottles = func() { p.BookSession(c.State().Plan(), c.SessionID) }
	c.keepAwake(p.KeepAwake)
	read.Follow(c)
	return c.skipQuiet(watch).watchHandover()
}
