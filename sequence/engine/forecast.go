package engine

// What lies ahead of a state: the film laid out to its end, the next move, the
// cues. Worked out once after each event that changes it, so that asking "is
// anything due?" costs a comparison.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// forecast is what will happen if nothing intervenes.
type forecast struct {
	film    schedule.Stays
	asked   schedule.Stays // as film, but a bath that waits for the person is left when that is asked for
	change  bathChange
	cues    []schedule.PlacedCue
	next    int // the first cue not yet given
	wetWarn sequence.Elapsed
	wetPass sequence.Elapsed
	wake    sequence.Elapsed // the earliest of all that is due; Never for nothing
}

// withForecast works out what lies ahead.
func (s State) withForecast() State {
	if !s.began || s.over != "" {
		s.forecastNow = forecast{wake: sequence.Never, change: bathChange{at: sequence.Never}, wetWarn: sequence.Never, wetPass: sequence.Never}
		return s
	}
	s.laidAt = s.at
	laid, asked := s.layOutBoth(s.floor(s.at))
	a := forecast{film: laid, asked: asked, change: nextBathChange(s.filmState, asked), wetWarn: sequence.Never, wetPass: sequence.Never}
	s.filmState.overdue = s.filmState.overdue && s.blocked(a.change)
	worst := laid
	if s.filmState.overdue {
		worst = s.filmState.film
	}
	a.wetWarn, a.wetPass = schedule.WetAlarms(s.plan, worst)
	if s.warned != sequence.Never {
		a.wetWarn = s.warned
	}
	if s.passed != sequence.Never {
		a.wetPass = s.passed
	}
	s.forecastNow.change = a.change
	c := s.score(laid, asked, s.at)
	c.WetWarningAt, c.WetLimitAt = a.wetWarn, a.wetPass
	if !s.muted {
		a.cues = c.Build()
	}
	if s.warned != sequence.Never {
		a.wetWarn = sequence.Never
	}
	if s.passed != sequence.Never {
		a.wetPass = sequence.Never
	}
	s.forecastNow = a
	return s.skipGiven()
}

// wake is the earliest moment at which something is due.
func (s State) wake() sequence.Elapsed {
	a := s.forecastNow
	w := min(a.wetWarn, a.wetPass)
	if a.next < len(a.cues) {
		w = min(w, a.cues[a.next].At)
	}
	if !s.filmState.overdue {
		w = min(w, a.change.at)
	}
	return w
}

// Due is the next moment at which something falls due, and false where nothing will.
func (s State) Due() (sequence.Elapsed, bool) {
	return s.forecastNow.wake, s.forecastNow.wake != sequence.Never
}
