// Package engine is a session as a state machine without clock or disk: Decide says what
// happens, Apply what that changes.
//
// For sequence/live, which alone calls both on a running session, and for whoever replays a
// journal. Start with NewState, Decide, Apply; Snapshot is all that a screen or a voice may tell.
// The caller brings the time and keeps the events, in their order; Apply cannot fail.
package engine

// The state of a session, and how events change it. Apply is pure and cannot
// fail: replaying a journal gives the state that was lived.

import (
	"fmt"
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// State is a session at one moment. Make one with NewState; change it with
// Apply alone.
type State struct {
	at        sequence.Elapsed // of the last event
	began     bool
	beganAt   sequence.Elapsed        // when it began, before the first sheet goes in
	over      sequence.EventKind      // SessionDone or SessionStopped; "" while it lasts
	filmState                         // what the person can undo
	lastAct                           // and by what act
	givenCues givenCues               // cues so far
	shuffles  []schedule.ShuffleCount // by step; two stacks are turned at once where a film test leaves together
	warned    sequence.Elapsed        // when wet-warning was given; Never if not
	passed    sequence.Elapsed        // when wet-limit-passed was given; Never if not
	lit       bool                    // the person asked for light
	offer     bool                    // light was offered, and no dark step has begun since
	announced sequence.Elapsed        // the next move as it was last told: what readings change is told against it
	sound     string                  // why there is no sound; "" while there is

	speed  float64          // of a rehearsal; 0 for a session with film
	muted  bool             // being replayed: no cue is worked out
	stale  bool             // and ahead is as it was before the last reading
	laidAt sequence.Elapsed // when ahead was last worked out, or would have been

	forecastNow forecast // worked out from the above
}

// NewState is a session that has not begun. It errs where two steps have one name, and where a rate cannot be worked out.
func NewState(p *sequence.Plan) (State, error) {
	l, err := schedule.NewLayout(p)
	if err != nil {
		return State{}, err
	}
	for i := range p.Steps {
		if first := p.StepIndex(p.Steps[i].Name); first != i {
			return State{}, fmt.Errorf("steps %d and %d are both called %q: events tell steps apart by name", first+1, i+1, p.Steps[i].Name)
		}
	}
	s := State{givenCues: givenCues{at: -sequence.Never, heard: sequence.Never}, warned: sequence.Never, passed: sequence.Never}
	s.filmState = filmState{plan: p, film: l.Done, doses: l.Doses}
	s.rates = slices.Clone(l.Rates)
	for i, r := range s.rates {
		if table, ok := r.(chem.Pairs); ok {
			s.rates[i] = table.Continued() // a bath that leaves its table goes on working
		}
	}
	s.forecastNow.wake, s.forecastNow.change.at = sequence.Never, sequence.Never
	return s, nil
}

// Apply returns the state after e. It never fails, and never changes s.
func Apply(s State, e sequence.Event) State {
	if e.Kind == sequence.Heartbeat || e.Kind == sequence.TransferDue {
		return s
	}
	if s.stale && e.Kind != sequence.ReadingTaken && (e.Kind != sequence.CueGiven || e.Cue == sequence.CueReading || e.Cue == sequence.CueOverdue) {
		s = s.forecastOnce()
	}
	s.at = max(s.at, e.At)
	if !s.began {
		s.at = e.At
	}
	if e.Act != 0 && e.Act != s.act {
		s.lastAct = lastAct{filmBeforeAct: new(s.filmState), act: e.Act, actAt: e.At}
	}
	switch e.Kind {
	case sequence.CueGiven:
		return s.applyCue(e)
	case sequence.Transferred, sequence.Pulled, sequence.ReadingTaken, sequence.Held, sequence.HoldEnded, sequence.Overran, sequence.LateReported:
		s = s.applyToFilm(e)
	case sequence.SetAside:
		if e.Source != sequence.ByHand {
			return s // a film test's, which waits for the others
		}
		s = s.applyToFilm(e)
	case sequence.SessionBegan:
		s.began, s.beganAt = true, e.At
	case sequence.Undone:
		s = undone(s)
		s.givenCues = s.givenCues.forgetBefore(e.At)
	case sequence.GapFound, sequence.Resumed:
		s.givenCues = s.givenCues.forgetBefore(e.At)
	case sequence.WetWarned:
		s.warned = e.At
	case sequence.WetPassed:
		s.passed = e.At
	case sequence.SessionDone, sequence.SessionStopped:
		if s.over = e.Kind; s.over == sequence.SessionDone {
			s.filmState.film = slices.Clone(s.filmState.film)
			s.filmState.film.LiftSetAside(s.plan)
		}
	default:
		return s.applyRest(e)
	}
	if s.muted && e.Kind == sequence.ReadingTaken {
		s.stale, s.laidAt = true, s.at
		return s
	}
	s = s.withForecast()
	if e.Kind != sequence.ReadingTaken {
		s.announced = s.forecastNow.change.at
	}
	return s
}

// applyRest takes in what changes neither film nor time.
func (s State) applyRest(e sequence.Event) State {
	switch e.Kind {
	case sequence.LightChanged:
		s.lit = e.Text == "on"
	case sequence.SoundLost:
		s.sound = e.Text
	case sequence.SoundBack:
		s.sound = ""
	}
	return s
}
