package engine

// How events move film: into the next bath, back where it still was, aside.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// applyToFilm lets e change the motion. What happens by itself while the person's last
// act can still be taken back happens to the motion before that act too: undo
// takes back what the person did, and no more.
func (s State) applyToFilm(e sequence.Event) State {
	if !s.began || s.over != "" || !belongsTo(s.plan, e) {
		return s
	}
	alike := s.filmBeforeAct != nil && s.filmBeforeAct.readings == s.filmState.readings
	if s.filmBeforeAct != nil && e.Act == 0 {
		s.filmBeforeAct = new(s.filmBeforeAct.changed(e, s.forecastNow.asked))
	}
	s.filmState = s.changed(e, s.forecastNow.asked)
	if alike && e.Act == 0 {
		s.filmBeforeAct.readings = s.filmState.readings // one list for both
	}
	s.shuffles = s.otherRounds(e)
	return s
}

// otherRounds is the turns so far after e: where it changes how many sheets of a film test lie in
// a bath, the round there is another.
func (s State) otherRounds(e sequence.Event) []schedule.ShuffleCount {
	from := s.plan.StepIndex(e.Step) - 1
	switch {
	case e.Kind == sequence.SetAside:
		return nil
	case e.Kind == sequence.LateReported:
		return turnedWithout(s.filmState, s.shuffles)
	case e.Kind == sequence.Pulled:
		from++
	case e.Kind != sequence.Transferred || !s.plan.LeavesSingly(from):
		return s.shuffles
	}
	turned := slices.Clone(s.shuffles)
	for i := from; i <= from+1 && i < len(turned); i++ {
		turned[i] = schedule.ShuffleCount{}
	}
	return turned
}

// turnedWithout is the turns so far as the hand gave them, to a stack in which the late sheet never lay.
func turnedWithout(f filmState, given []schedule.ShuffleCount) []schedule.ShuffleCount {
	turned := slices.Clone(given)
	for i := range turned {
		if n := liesIn(f, i); n > 0 {
			turned[i].Lead = (n - turned[i].Count%n) % n
		}
	}
	return turned
}

// belongsTo reports whether e can be an event of this plan. Any other, and any before
// the beginning or after the end, changes nothing.
func belongsTo(p *sequence.Plan, e sequence.Event) bool {
	if e.Sheet < 0 || e.Sheet > p.Sheets {
		return false
	}
	switch e.Kind {
	case sequence.ReadingTaken:
		return e.Temperature != nil
	case sequence.LateReported, sequence.SetAside:
		return e.Sheet > 0
	case sequence.Pulled:
		return p.StepIndex(e.Step) < len(p.Steps)
	}
	return true
}

// changed is the motion after e.
func (f filmState) changed(e sequence.Event, asked schedule.Stays) filmState {
	m := f
	switch e.Kind {
	case sequence.Transferred, sequence.Pulled:
		return f.move(e, asked)
	case sequence.ReadingTaken:
		m.readings = m.readings.with(f.plan, e)
	case sequence.Held:
		m.held = true
	case sequence.HoldEnded:
		return f.goOn(e, asked)
	case sequence.Overran:
		m.overdue, m.since = true, e.At
		if e.Since != nil {
			m.since = *e.Since
		}
	case sequence.LateReported:
		return f.putBack(e)
	case sequence.SetAside:
		return f.setAside(e)
	}
	return m
}

// goOn ends a hold; with a step, what waited there is lifted and drains.
func (f filmState) goOn(e sequence.Event, asked schedule.Stays) filmState {
	m, p := f, f.plan
	m.held = false
	i := p.StepIndex(e.Step)
	if e.Step == "" || i == len(p.Steps) {
		return m
	}
	m.lift = schedule.Lift{Step: i + 1, Sheet: e.Sheet, At: e.At + p.Steps[i].Drain}
	if early := e; e.Sheet > 0 {
		if early.At = m.lift.At; f.cutsShort(i, early, asked) {
			m.doses = slices.Clone(m.doses)
			m.doses[i] = f.dose(i, f.countsFrom(i, e.Sheet-1), early.At)
		}
	}
	return m
}

// move takes one sheet, or all, into the next bath.
func (f filmState) move(e sequence.Event, asked schedule.Stays) filmState {
	m, p := f, f.plan
	m.film, m.late, m.overdue, m.lift = slices.Clone(m.film), slices.Clone(m.late), false, schedule.Lift{}
	to := p.StepIndex(e.Step)
	if e.Kind == sequence.Pulled {
		to++
	}
	from := to - 1
	if from >= 0 && f.cutsShort(from, e, asked) {
		m.doses = slices.Clone(m.doses)
		m.doses[from] = f.dose(from, f.countsFrom(from, e.Sheet-1), e.At)
	}
	for k := range p.Sheets {
		if e.Sheet != 0 && e.Sheet != k+1 || f.where(k) != from {
			continue
		}
		if from >= 0 {
			m.film.Row(p, from)[k].Out = e.At
		}
		if to < len(p.Steps) {
			m.film.Row(p, to)[k].In = e.At
		}
		if m.late != nil {
			m.late[k] = false
		}
	}
	return m
}

// cutsShort reports whether the first sheet of a row that leaves one by one does
// so early: then the others get what this sheet has had, and follow.
func (f filmState) cutsShort(from int, e sequence.Event, asked schedule.Stays) bool {
	if e.Sheet == 0 || f.plan.LeavesSingly(from) {
		return false
	}
	for k := range f.plan.Sheets {
		if f.where(k) != from && !f.film.IsSetAside(f.plan, k) {
			return false
		}
	}
	return e.At < asked.Row(f.plan, from)[e.Sheet-1].Out
}

// putBack puts a sheet, or a load that moves together, back where it still is.
func (f filmState) putBack(e sequence.Event) filmState {
	m, p, to := f, f.plan, f.where(e.Sheet-1)
	m.film, m.overdue, m.lift = slices.Clone(m.film), false, schedule.Lift{}
	m.late = make([]bool, p.Sheets)
	copy(m.late, f.late)
	for k := range p.Sheets {
		if to < 0 || e.Sheet != k+1 && !(f.where(k) == to && p.MovesTogether(to-1)) {
			continue
		}
		if to < len(p.Steps) {
			m.film.Row(p, to)[k].In = sequence.Never
		}
		if to > 0 {
			m.film.Row(p, to-1)[k].Out = sequence.Never
		}
		m.late[k] = true
	}
	return m
}

// setAside takes a sheet out of its bath into plain water, for good: it moves on no
// more, and its wet time goes on until the last sheet out.
func (f filmState) setAside(e sequence.Event) filmState {
	m, p, at := f, f.plan, f.where(e.Sheet-1)
	if at < 0 || at >= len(p.Steps) {
		return m
	}
	m.film, m.overdue = slices.Clone(m.film), false
	m.film.Row(p, at)[e.Sheet-1].Out = e.At
	m.film.Row(p, len(p.Steps))[e.Sheet-1].In = e.At
	return m
}
