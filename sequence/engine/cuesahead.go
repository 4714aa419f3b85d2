package engine

// The cues that are to come, and those of the last moments, so that none is given twice.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

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

// score is what the cues from a moment on are made from, but for the wet time's.
func (s State) score(laid, asked schedule.Stays, from sequence.Elapsed) schedule.CueBuilder {
	c := schedule.CueBuilder{Plan: s.plan, Film: laid, Asked: asked, Done: s.filmState.film, From: from, LastHeard: s.givenCues.heard, Shuffles: s.shuffles,
		WetWarningAt: sequence.Never, WetLimitAt: sequence.Never, Began: s.beganAt}
	if s.blocked(s.forecastNow.change) {
		c.Blocked, c.BlockedStep, c.BlockedSheet, c.AskedAt = true, s.forecastNow.change.from, s.forecastNow.change.sheet, s.forecastNow.change.at
		if s.filmState.overdue {
			c.OverdueSince = s.filmState.since
			c.OverrunUntil = max(s.filmState.since, s.givenCues.heard, s.at) + 3*schedule.OverdueEvery
		}
	}
	return c
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
		s.shuffles[step] = s.shuffles[step].And(e.At, liesIn(s.filmState, step))
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

// Ahead lists the cues with from <= At < to: what was given in the last moments,
// and what is to come. Whoever plays them knows which have begun.
func (s State) Ahead(from, to sequence.Elapsed) []sequence.Cue {
	var list []sequence.Cue
	for _, c := range s.givenCues.cues {
		if c.At >= from && c.At < to {
			list = append(list, c)
		}
	}
	for _, c := range s.forecastNow.cues[s.forecastNow.next:] {
		if c.At >= to {
			break
		}
		if c.At >= from {
			list = append(list, c.Cue)
		}
	}
	return list
}
