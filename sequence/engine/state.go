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
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// State is a session at one moment. Make one with NewState; change it with
// Apply alone.
type State struct {
	plan  *sequence.Plan
	rates []chem.Rate

	at            sequence.Elapsed // of the last event
	began         bool
	beganAt       sequence.Elapsed   // when it began, before the first sheet goes in
	over          sequence.EventKind // SessionDone or SessionStopped; "" while it lasts
	filmState     filmState          // what the person can undo
	filmBeforeAct *filmState         // as it was before the person's last act; nil if none
	act           int                // number of the person's last act
	actAt         sequence.Elapsed
	givenCues     givenCues               // cues so far
	shuffles      []schedule.ShuffleCount // by step; two stacks are turned at once where a film test leaves together
	warned        sequence.Elapsed        // when wet-warning was given; Never if not
	passed        sequence.Elapsed        // when wet-limit-passed was given; Never if not
	lit           bool                    // the person asked for light
	offer         bool                    // light was offered, and no dark step has begun since
	announced     sequence.Elapsed        // the next move as it was last told: what readings change is told against it
	sound         string                  // why there is no sound; "" while there is

	muted  bool             // being replayed: no cue is worked out
	stale  bool             // and ahead is as it was before the last reading
	laidAt sequence.Elapsed // when ahead was last worked out, or would have been

	forecastNow forecast // worked out from the above
}

// givenCues remembers the cues of the last moments, so that none is given twice
// and none is lost to a change of plan just after its instant.
type givenCues struct {
	at    sequence.Elapsed // nothing up to here is given any more, but what is due at it
	heard sequence.Elapsed // when a cue was last given; Never if none was
	cues  []sequence.Cue
}

// forgetBefore passes over all cues before t; those given at t stay given.
func (g givenCues) forgetBefore(t sequence.Elapsed) givenCues {
	cues := slices.DeleteFunc(slices.Clone(g.cues), func(c sequence.Cue) bool { return c.At < t })
	return givenCues{at: t, heard: g.heard, cues: cues}
}

// givenKeptFor is how long a given cue is still told to whoever plays it.
const givenKeptFor = 2 * time.Second

// forecast is what will happen if nothing intervenes.
type forecast struct {
	film    schedule.Stays
	change  bathChange
	cues    []schedule.PlacedCue
	next    int // the first cue not yet given
	wetWarn sequence.Elapsed
	wetPass sequence.Elapsed
	wake    sequence.Elapsed // the earliest of all that is due; Never for nothing
}

// bathChange is the next change of bath.
type bathChange struct {
	at    sequence.Elapsed // Never: none left
	from  int              // step that is left; -1 for dry film
	sheet int              // 1..n; 0 for all that are in the step
}

// NewState is a session that has not begun.
func NewState(p *sequence.Plan) (State, error) {
	l, err := schedule.NewLayout(p)
	if err != nil {
		return State{}, err
	}
	s := State{plan: p, givenCues: givenCues{at: -sequence.Never, heard: sequence.Never}, warned: sequence.Never, passed: sequence.Never}
	s.filmState = filmState{film: l.Done, doses: l.Doses}
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
	if e.Kind == sequence.Heartbeat {
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
		m := s.filmState
		s.filmBeforeAct, s.act, s.actAt = &m, e.Act, e.At
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
		if s.filmBeforeAct != nil {
			s.filmState, s.filmBeforeAct = *s.filmBeforeAct, nil
		}
		s.givenCues = s.givenCues.forgetBefore(e.At)
	case sequence.GapFound, sequence.Resumed:
		s.givenCues = s.givenCues.forgetBefore(e.At)
	case sequence.WetWarned:
		s.warned = e.At
	case sequence.WetPassed:
		s.passed = e.At
	case sequence.SessionDone, sequence.SessionStopped:
		s.over = e.Kind
		s.filmState.film = withSetAsideLifted(s.filmState.film, s.plan, e)
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

// applyCue notes that a cue was given.
func (s State) applyCue(e sequence.Event) State {
	c := sequence.Cue{At: e.At, Kind: e.Cue, For: e.For, Change: e.Change, Step: e.Step, Sheet: e.Sheet}
	cues := s.givenCues.cues
	for len(cues) > 0 && cues[0].At < e.At-givenKeptFor {
		cues = cues[1:]
	}
	s.givenCues = givenCues{at: e.At, heard: e.At, cues: append(slices.Clip(cues), c)}
	switch e.Cue {
	case sequence.CueLightsOffer:
		s.offer = true
	case sequence.CueLightsOut:
		s.offer, s.lit = false, false
	case sequence.CueShuffle:
		step := s.plan.StepIndex(e.Step)
		if s.plan.GathersPulled(step) {
			break // a turn in plain water is none of a round
		}
		if step == len(s.plan.Steps) {
			break
		}
		s.shuffles = append(make([]schedule.ShuffleCount, 0, len(s.plan.Steps)), s.shuffles...)[:len(s.plan.Steps)]
		s.shuffles[step] = s.shuffles[step].And(e.At)
	case sequence.CueReading:
		s.announced = s.forecastNow.change.at
	case sequence.CueOverdue:
		return s.withForecast() // the next ten seconds of it
	}
	return s.skipGiven()
}

// skipGiven passes over the cues that have been given, or that are past.
func (s State) skipGiven() State {
	a := &s.forecastNow
	for a.next < len(a.cues) {
		c := a.cues[a.next].Cue
		if c.At > s.givenCues.at || c.At == s.givenCues.at && !slices.ContainsFunc(s.givenCues.cues, c.SameAs) {
			break
		}
		a.next++
	}
	s.forecastNow.wake = s.wake()
	return s
}
