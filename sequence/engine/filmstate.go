package engine

// Where the film is, as far as it has happened, and how events change that.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// filmState is where the film is and what has been said about it.
type filmState struct {
	film      schedule.Stays
	doses     []sequence.Elapsed // to be reached, one a step; less where the person moved on early
	readings  *bathReadings      // of the developer while running; nil for none
	late      []bool             // sheets said to be where they were, and not moved since; nil for none
	held      bool
	lift      schedule.Lift    // what is lifted at the person's word, and goes when it has dripped
	developed []float64        // share of its development that each sheet left its developer with; nil for none yet
	overdue   bool             // the next move's time has passed without it
	since     sequence.Elapsed // since when
}

// applyToFilm lets e change the motion. What happens by itself while the person's last
// act can still be taken back happens to the motion before that act too: undo
// takes back what the person did, and no more.
func (s State) applyToFilm(e sequence.Event) State {
	if !s.began || s.over != "" || !belongsTo(s.plan, e) {
		return s
	}
	alike := s.filmBeforeAct != nil && s.filmBeforeAct.readings == s.filmState.readings
	if s.filmBeforeAct != nil && e.Act == 0 {
		b := s
		b.filmState = *s.filmBeforeAct
		m := b.changed(e)
		s.filmBeforeAct = &m
	}
	s.filmState = s.changed(e)
	if alike && e.Act == 0 {
		s.filmBeforeAct.readings = s.filmState.readings // one list for both
	}
	if e.Kind == sequence.Pulled || e.Kind == sequence.SetAside || e.Kind == sequence.Transferred && s.plan.LeavesStaggered(s.plan.StepIndex(e.Step)-1) {
		s.shuffles = nil // the round is another
	}
	return s
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
func (s State) changed(e sequence.Event) filmState {
	m := s.filmState
	switch e.Kind {
	case sequence.Transferred, sequence.Pulled:
		return s.move(e)
	case sequence.ReadingTaken:
		m.readings = m.readings.with(s.plan, e)
	case sequence.Held:
		m.held = true
	case sequence.HoldEnded:
		return s.goOn(e)
	case sequence.Overran:
		m.overdue, m.since = true, e.At
		if e.Since != nil {
			m.since = *e.Since
		}
	case sequence.LateReported:
		return s.putBack(e)
	case sequence.SetAside:
		return s.setAside(e)
	}
	return m
}

// goOn ends a hold; with a step, what waited there is lifted and drains.
func (s State) goOn(e sequence.Event) filmState {
	m, p := s.filmState, s.plan
	m.held = false
	i := p.StepIndex(e.Step)
	if e.Step == "" || i == len(p.Steps) {
		return m
	}
	m.lift = schedule.Lift{Step: i + 1, Sheet: e.Sheet, At: e.At + p.Steps[i].Drain}
	if early := e; e.Sheet > 0 {
		if early.At = m.lift.At; s.cutsShort(i, early) {
			m.doses = slices.Clone(m.doses)
			m.doses[i] = s.dose(i, s.countsFrom(i, e.Sheet-1), early.At)
		}
	}
	return m
}

// move takes one sheet, or all, into the next bath.
func (s State) move(e sequence.Event) filmState {
	m, p := s.filmState, s.plan
	m.film, m.late, m.overdue, m.lift = slices.Clone(m.film), slices.Clone(m.late), false, schedule.Lift{}
	to := p.StepIndex(e.Step)
	if e.Kind == sequence.Pulled {
		to++
	}
	from := to - 1
	if from >= 0 && s.cutsShort(from, e) {
		m.doses = slices.Clone(m.doses)
		m.doses[from] = s.dose(from, s.countsFrom(from, e.Sheet-1), e.At)
	}
	for k := range p.Sheets {
		if e.Sheet != 0 && e.Sheet != k+1 || s.where(k) != from {
			continue
		}
		if from >= 0 {
			m.film.Row(p, from)[k].Out = e.At
			m.developed = s.developedOnLeaving(from, k, e.At, m.developed)
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

// developedOnLeaving adds to given how far sheet k has developed, where it leaves a developer
// in which its time is its own.
func (s State) developedOnLeaving(from, k int, at sequence.Elapsed, given []float64) []float64 {
	if st := &s.plan.Steps[from]; st.Kind != sequence.Develop || !s.plan.OwnTimes(from) && !st.StaggeredEntry() {
		return given
	}
	if given = slices.Clone(given); given == nil {
		given = make([]float64, s.plan.Sheets)
	}
	given[k] = s.share(from, k, at)
	return given
}

// share is the part of its development that sheet k has in step i at a moment.
func (s State) share(i, k int, at sequence.Elapsed) float64 {
	st := &s.plan.Steps[i]
	of := s.filmState.doses[i]
	if st.IsFilmTest() {
		of = st.Doses[k]
	}
	in := s.filmState.film.Row(s.plan, i)[k].In
	return float64(s.dose(i, in, max(at, in))) / float64(of)
}

// cutsShort reports whether the first sheet of a row that leaves one by one does
// so early: then the others get what this sheet has had, and follow.
func (s State) cutsShort(from int, e sequence.Event) bool {
	if e.Sheet == 0 || s.plan.LeavesTogether(from) || s.plan.Steps[from].PullsSheets() || s.plan.LeavesStaggered(from) {
		return false
	}
	for k := range s.plan.Sheets {
		if s.where(k) != from && !s.filmState.film.IsSetAside(s.plan, k) {
			return false
		}
	}
	return e.At < s.forecastNow.film.Row(s.plan, from)[e.Sheet-1].Out
}

// countsFrom is when the time of sheet k in step i counts from: its own entry in a
// developer, elsewhere that of the last sheet.
func (s State) countsFrom(i, k int) sequence.Elapsed {
	row := s.filmState.film.Row(s.plan, i)
	if s.plan.OwnTimes(i) {
		return row[k].In
	}
	_, last, _, _ := schedule.Bounds(row)
	return last
}

// putBack puts a sheet, or a load that moves together, back where it still is.
func (s State) putBack(e sequence.Event) filmState {
	m, p, to := s.filmState, s.plan, s.where(e.Sheet-1)
	m.film, m.overdue, m.lift = slices.Clone(m.film), false, schedule.Lift{}
	m.late = make([]bool, p.Sheets)
	copy(m.late, s.filmState.late)
	for k := range p.Sheets {
		if to < 0 || e.Sheet != k+1 && !(s.where(k) == to && p.MovesTogether(to-1)) {
			continue
		}
		if to < len(p.Steps) {
			m.film.Row(p, to)[k].In = sequence.Never
		}
		if to > 0 {
			m.film.Row(p, to-1)[k].Out = sequence.Never
		}
		if m.developed != nil {
			m.developed = slices.Clone(m.developed)
			m.developed[k] = 0
		}
		m.late[k] = true
	}
	return m
}

// setAside takes a sheet out of its bath into plain water, for good: it moves on no
// more, and its wet time goes on until the last sheet out.
func (s State) setAside(e sequence.Event) filmState {
	m, p, at := s.filmState, s.plan, s.where(e.Sheet-1)
	if at < 0 || at >= len(p.Steps) {
		return m
	}
	m.film, m.overdue = slices.Clone(m.film), false
	m.film.Row(p, at)[e.Sheet-1].Out = e.At
	m.film.Row(p, len(p.Steps))[e.Sheet-1].In = e.At
	return m
}

// withSetAsideLifted is the film with what was set aside out of the water, at the session's end.
func withSetAsideLifted(f schedule.Stays, p *sequence.Plan, e sequence.Event) schedule.Stays {
	if e.Kind != sequence.SessionDone {
		return f
	}
	f = slices.Clone(f)
	f.LiftSetAside(p)
	return f
}

// where is the step that sheet k (from 0) is in: -1 dry, len(Steps) out or set aside.
func (s State) where(k int) int {
	if s.filmState.film.IsSetAside(s.plan, k) {
		return len(s.plan.Steps)
	}
	for i := range s.plan.Steps {
		y := s.filmState.film.Row(s.plan, i)[k]
		if y.In == sequence.Never {
			return i - 1
		}
		if y.Out == sequence.Never {
			return i
		}
	}
	return len(s.plan.Steps)
}
