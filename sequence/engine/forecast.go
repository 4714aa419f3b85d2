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
	laid, asked := s.layOutBoth(s.floor(s.at))
	a := forecast{film: laid, asked: asked, change: s.nextBathChange(asked), wetWarn: sequence.Never, wetPass: sequence.Never}
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

// floor is the moment before which nothing more is laid out: now, but in a countdown
// that nobody cut short not before its end.
func (s State) floor(now sequence.Elapsed) sequence.Elapsed {
	if start, _, _, _ := schedule.Bounds(s.filmState.film.Row(s.plan, 0)); start != sequence.Never {
		return now
	}
	return max(0, now)
}

// layOut lays the film out, nothing before floor.
func (s State) layOut(floor sequence.Elapsed) schedule.Stays { return s.laidOut(floor, false) }

// layOutAsked lays the film out as layOut does, but out of a bath that waits for the person it goes
// when that is asked for, and not when it has dripped.
func (s State) layOutAsked(floor sequence.Elapsed) schedule.Stays {
	return s.laidOut(floor, true)
}

// layOutBoth is layOut and layOutAsked; the same where nothing drains after a press.
func (s State) layOutBoth(floor sequence.Elapsed) (laid, asked schedule.Stays) {
	laid = s.layOut(floor)
	if !s.plan.DrainsAfterPress() {
		return laid, laid
	}
	return laid, s.layOutAsked(floor)
}

func (s State) laidOut(floor sequence.Elapsed, asked bool) schedule.Stays {
	l := schedule.Layout{Plan: s.plan, AsAsked: asked, Rates: s.rates, Doses: s.filmState.doses, Done: s.filmState.film, NotBefore: floor, Lift: s.filmState.lift}
	l.Courses = make([]chem.Course, len(s.plan.Steps))
	for i := range s.plan.Steps {
		if s.plan.Steps[i].TimeByTemperature != nil {
			l.Courses[i] = s.course(i)
		}
	}
	f, err := l.Complete()
	if err != nil { // cannot be: the rates go on past their tables
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

// converted is what a temperature may be off by converting it from Fahrenheit, in K.
const converted = 1e-9

// outside reports whether no time is known at a temperature: more than a degree past
// the ends of a table it is counted by the table's last slope, and is uncertain.
func outside(w *sequence.Temperature, t chem.Celsius) bool {
	n := len(w.Table)
	return n > 0 && (t < w.Table[0].T-chem.MaxExtrapolation-converted || t > w.Table[n-1].T+chem.MaxExtrapolation+converted)
}

// uncertain reports whether step i's bath was outside its table at some moment between
// two, as far as it was read.
func (s State) uncertain(i int, from, to sequence.Elapsed) bool {
	w := s.plan.Steps[i].TimeByTemperature
	if w == nil || len(w.Table) == 0 {
		return false
	}
	c := s.course(i)
	for _, r := range c.Readings {
		if r.At > from && r.At < to && outside(w, r.T) {
			return true
		}
	}
	return outside(w, c.At(from)) || outside(w, c.At(max(from, to)))
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
	k, laid := max(e.sheet-1, 0), s.layOutAsked(0)
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
	if e.from < 0 || !s.plan.Steps[e.from].WaitForPerson || s.filmState.lift.Of(e.from) {
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
