package sequence

// Where the film is, as far as it has happened, and how events change that.

import "slices"

// motion is where the film is and what has been said about it.
type motion struct {
	film     film
	doses    []Elapsed // to be reached, one a step; less where the person moved on early
	readings *taken    // of the developer while running; nil for none
	late     []bool    // sheets said to be where they were, and not moved since; nil for none
	held     bool
	lift     lift      // what is lifted at the person's word, and goes when it has dripped
	given    []float64 // share of its development that each sheet left its developer with; nil for none yet
	overdue  bool      // the next move's time has passed without it
	since    Elapsed   // since when
}

// lift is film taken out of a bath that waited for the person's word: it drains, and
// then it goes. The zero value is none.
type lift struct {
	step  int // counted from 1
	sheet int // 0 for all
	at    Elapsed
}

// of reports whether it is a lift out of step i.
func (l lift) of(i int) bool { return l.step == i+1 && i >= 0 }

// change lets e change the motion. What happens by itself while the person's last
// act can still be taken back happens to the motion before that act too: undo
// takes back what the person did, and no more.
func (s State) change(e Event) State {
	if !s.began || s.over != "" || !s.plan.fits(e) {
		return s
	}
	alike := s.before != nil && s.before.readings == s.moves.readings
	if s.before != nil && e.Act == 0 {
		b := s
		b.moves = *s.before
		m := b.changed(e)
		s.before = &m
	}
	s.moves = s.changed(e)
	if alike && e.Act == 0 {
		s.before.readings = s.moves.readings // one list for both
	}
	if e.Kind == TakenOut || e.Kind == SetAside || e.Kind == Moved && s.plan.parting(s.plan.step(e.Step)-1) {
		s.turned = nil // the round is another
	}
	return s
}

// fits reports whether e can be an event of this plan. Any other, and any before
// the beginning or after the end, changes nothing.
func (p *Plan) fits(e Event) bool {
	if e.Sheet < 0 || e.Sheet > p.Sheets {
		return false
	}
	switch e.Kind {
	case ReadingTaken:
		return e.Temperature != nil
	case LateTold, SetAside:
		return e.Sheet > 0
	case TakenOut:
		return p.step(e.Step) < len(p.Steps)
	}
	return true
}

// changed is the motion after e.
func (s State) changed(e Event) motion {
	m := s.moves
	switch e.Kind {
	case Moved, TakenOut:
		return s.move(e)
	case ReadingTaken:
		m.readings = m.readings.and(s.plan, e)
	case Held:
		m.held = true
	case WentOn:
		return s.goOn(e)
	case Overran:
		m.overdue, m.since = true, e.At
		if e.Since != nil {
			m.since = *e.Since
		}
	case LateTold:
		return s.reopen(e)
	case SetAside:
		return s.setAside(e)
	}
	return m
}

// goOn ends a hold; with a step, what waited there is lifted and drains.
func (s State) goOn(e Event) motion {
	m, p := s.moves, s.plan
	m.held = false
	i := p.step(e.Step)
	if e.Step == "" || i == len(p.Steps) {
		return m
	}
	m.lift = lift{step: i + 1, sheet: e.Sheet, at: e.At + p.Steps[i].Drain}
	if early := e; e.Sheet > 0 {
		if early.At = m.lift.at; s.cutsShort(i, early) {
			m.doses = slices.Clone(m.doses)
			m.doses[i] = s.dose(i, s.counts(i, e.Sheet-1), early.At)
		}
	}
	return m
}

// move takes one sheet, or all, into the next bath.
func (s State) move(e Event) motion {
	m, p := s.moves, s.plan
	m.film, m.late, m.overdue, m.lift = slices.Clone(m.film), slices.Clone(m.late), false, lift{}
	to := p.step(e.Step)
	if e.Kind == TakenOut {
		to++
	}
	from := to - 1
	if from >= 0 && s.cutsShort(from, e) {
		m.doses = slices.Clone(m.doses)
		m.doses[from] = s.dose(from, s.counts(from, e.Sheet-1), e.At)
	}
	for k := range p.Sheets {
		if e.Sheet != 0 && e.Sheet != k+1 || s.where(k) != from {
			continue
		}
		if from >= 0 {
			m.film.row(p, from)[k].out = e.At
			m.given = s.givenBy(from, k, e.At, m.given)
		}
		if to < len(p.Steps) {
			m.film.row(p, to)[k].in = e.At
		}
		if m.late != nil {
			m.late[k] = false
		}
	}
	return m
}

// givenBy adds to given how far sheet k has developed, where it leaves a developer
// in which its time is its own.
func (s State) givenBy(from, k int, at Elapsed, given []float64) []float64 {
	if st := &s.plan.Steps[from]; st.Kind != Develop || !s.plan.own(from) && !st.joins() {
		return given
	}
	if given = slices.Clone(given); given == nil {
		given = make([]float64, s.plan.Sheets)
	}
	given[k] = s.share(from, k, at)
	return given
}

// share is the part of its development that sheet k has in step i at a moment.
func (s State) share(i, k int, at Elapsed) float64 {
	st := &s.plan.Steps[i]
	of := s.moves.doses[i]
	if st.tests() {
		of = st.Doses[k]
	}
	in := s.moves.film.row(s.plan, i)[k].in
	return float64(s.dose(i, in, max(at, in))) / float64(of)
}

// cutsShort reports whether the first sheet of a row that leaves one by one does
// so early: then the others get what this sheet has had, and follow.
func (s State) cutsShort(from int, e Event) bool {
	if e.Sheet == 0 || s.plan.together(from) || s.plan.Steps[from].TakesOut() || s.plan.parting(from) {
		return false
	}
	for k := range s.plan.Sheets {
		if s.where(k) != from && !s.moves.film.aside(s.plan, k) {
			return false
		}
	}
	return e.At < s.ahead.film.row(s.plan, from)[e.Sheet-1].out
}

// counts is when the time of sheet k in step i counts from: its own entry in a
// developer, elsewhere that of the last sheet.
func (s State) counts(i, k int) Elapsed {
	row := s.moves.film.row(s.plan, i)
	if s.plan.own(i) {
		return row[k].in
	}
	_, last, _, _ := span(row)
	return last
}

// reopen puts a sheet, or a load that moves together, back where it still is.
func (s State) reopen(e Event) motion {
	m, p, to := s.moves, s.plan, s.where(e.Sheet-1)
	m.film, m.overdue, m.lift = slices.Clone(m.film), false, lift{}
	m.late = make([]bool, p.Sheets)
	copy(m.late, s.moves.late)
	for k := range p.Sheets {
		if to < 0 || e.Sheet != k+1 && !(s.where(k) == to && p.Along(to-1)) {
			continue
		}
		if to < len(p.Steps) {
			m.film.row(p, to)[k].in = Never
		}
		if to > 0 {
			m.film.row(p, to-1)[k].out = Never
		}
		if m.given != nil {
			m.given = slices.Clone(m.given)
			m.given[k] = 0
		}
		m.late[k] = true
	}
	return m
}

// Along reports whether all sheets leave step from at once (-1: are loaded).
func (p *Plan) Along(from int) bool {
	if from < 0 {
		return !p.Steps[0].Stack
	}
	return p.together(from)
}

// setAside takes a sheet out of its bath into plain water, for good: it moves on no
// more, and its wet time goes on until the last lift.
func (s State) setAside(e Event) motion {
	m, p, at := s.moves, s.plan, s.where(e.Sheet-1)
	if at < 0 || at >= len(p.Steps) {
		return m
	}
	m.film, m.overdue = slices.Clone(m.film), false
	m.film.row(p, at)[e.Sheet-1].out = e.At
	m.film.row(p, len(p.Steps))[e.Sheet-1].in = e.At
	return m
}

// lifted is the film with what was set aside out of the water, at the session's end.
func (f film) lifted(p *Plan, e Event) film {
	if e.Kind != SessionDone {
		return f
	}
	f = slices.Clone(f)
	f.liftAside(p)
	return f
}

// where is the step that sheet k (from 0) is in: -1 dry, len(Steps) out or set aside.
func (s State) where(k int) int {
	if s.moves.film.aside(s.plan, k) {
		return len(s.plan.Steps)
	}
	for i := range s.plan.Steps {
		y := s.moves.film.row(s.plan, i)[k]
		if y.in == Never {
			return i - 1
		}
		if y.out == Never {
			return i
		}
	}
	return len(s.plan.Steps)
}
