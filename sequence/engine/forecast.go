package engine

// What lies ahead of a state: the film laid out to its end, the next move, the
// cues. Worked out once after each event that changes it, so that asking "is
// anything due?" costs a comparison.

import (
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// withForecast works out what lies ahead.
func (s State) withForecast() State {
	if !s.began || s.over != "" {
		s.forecastNow = forecast{wake: sequence.Never, change: bathChange{at: sequence.Never}, wetWarn: sequence.Never, wetPass: sequence.Never}
		return s
	}
	s.laidAt = s.at
	laid := s.layOut(max(0, s.at))
	a := forecast{film: laid, change: s.nextBathChange(laid), wetWarn: sequence.Never, wetPass: sequence.Never}
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
	c := schedule.CueBuilder{Plan: s.plan, Film: laid, Done: s.filmState.film, From: s.at, LastHeard: s.givenCues.heard, Shuffles: s.shuffles,
		WetWarningAt: a.wetWarn, WetLimitAt: a.wetPass, Began: s.beganAt}
	if s.blocked(a.change) {
		c.Blocked, c.BlockedStep = true, a.change.from
		if s.filmState.overdue {
			c.OverdueSince = s.filmState.since
			c.OverrunUntil = max(s.filmState.since, s.givenCues.heard, s.at) + 3*schedule.OverdueEvery
		}
	}
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

// layOut lays the film out, nothing before floor. A rate that is not known at a
// temperature that was read is taken at the nearest one known.
func (s State) layOut(floor sequence.Elapsed) schedule.Stays {
	l := schedule.Layout{Plan: s.plan, Rates: s.rates, Doses: s.filmState.doses, Done: s.filmState.film, NotBefore: floor}
	l.Courses = make([]chem.Course, len(s.plan.Steps))
	for i := range s.plan.Steps {
		if s.plan.Steps[i].TimeByTemperature != nil {
			l.Courses[i] = s.course(i)
		}
	}
	f, err := l.Complete()
	if err != nil { // cannot be: courses are kept inside what the rates know
		return slices.Clone(s.filmState.film)
	}
	return f
}

// course is the temperature of step i's bath: as planned, and as read.
func (s State) course(i int) chem.Course {
	st := &s.plan.Steps[i]
	c := s.plan.Course(st)
	if s.filmState.readings != nil {
		c.Readings = s.filmState.readings.rows[i]
	}
	return c
}

// clampToTable is the nearest temperature for which the time is known: a table is not
// extrapolated by more than 1 K.
func clampToTable(w *sequence.Temperature, t chem.Celsius) chem.Celsius {
	if n := len(w.Table); n > 0 {
		return min(max(t, w.Table[0].T-1), w.Table[n-1].T+1)
	}
	return t
}

// dose is the development of film in step i from in to t.
func (s State) dose(i int, in, t sequence.Elapsed) sequence.Elapsed {
	if s.plan.Steps[i].TimeByTemperature == nil {
		return t - in
	}
	d, err := chem.Dose(s.rates[i], s.course(i), in, t)
	if err != nil {
		return t - in
	}
	return d
}

// nextBathChange is the earliest change of bath that has not happened.
func (s State) nextBathChange(laid schedule.Stays) bathChange {
	p, next := s.plan, bathChange{at: sequence.Never}
	consider := func(at sequence.Elapsed, from, k int, all bool) {
		e := bathChange{at: at, from: from, sheet: k + 1}
		if all {
			e.sheet = 0
		}
		if at < next.at {
			next = e
		}
	}
	for i := range p.Steps {
		done, row := s.filmState.film.Row(p, i), laid.Row(p, i)
		for k := range row {
			if i == 0 && done[k].In == sequence.Never {
				consider(row[k].In, -1, k, !p.Steps[0].Stack)
			}
			if done[k].In != sequence.Never && done[k].Out == sequence.Never {
				consider(row[k].Out, i, k, p.LeavesTogether(i) && s.allIn(i))
			}
		}
	}
	return next
}

// due is when e is due by the film's time in its bath, however long ago that was.
func (s State) due(e bathChange) sequence.Elapsed {
	k, laid := max(e.sheet-1, 0), s.layOut(0)
	if e.from < 0 {
		return laid.Row(s.plan, 0)[k].In
	}
	return laid.Row(s.plan, e.from)[k].Out
}

func (s State) allIn(i int) bool {
	for k, y := range s.filmState.film.Row(s.plan, i) {
		if y.In == sequence.Never && !s.filmState.film.IsSetAside(s.plan, k) {
			return false
		}
	}
	return true
}

// blocked reports whether moving on at e waits for the person: while held, and
// at the end of a step that says so.
func (s State) blocked(e bathChange) bool {
	if e.at == sequence.Never {
		return false
	}
	if s.filmState.held {
		return true
	}
	if e.from < 0 || !s.plan.Steps[e.from].WaitForPerson {
		return false
	}
	for k, y := range s.filmState.film.Row(s.plan, e.from) {
		if y.Out != sequence.Never && !s.filmState.film.IsSetAside(s.plan, k) {
			return false
		}
	}
	return true
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
