package sequence

// What lies ahead of a state: the film laid out to its end, the next move, the
// cues. Worked out once after each event that changes it, so that asking "is
// anything due?" costs a comparison.

import (
	"slices"

	"example.org/wetside/chem"
)

// forecast works out what lies ahead.
func (s State) forecast() State {
	if !s.began || s.over != "" {
		s.ahead = outlook{wake: Never, edge: edge{at: Never}, wetWarn: Never, wetPass: Never}
		return s
	}
	s.laidAt = s.at
	laid := s.lay(s.floor(s.at))
	a := outlook{film: laid, edge: s.nextEdge(laid), wetWarn: Never, wetPass: Never}
	s.moves.overdue = s.moves.overdue && s.blocked(a.edge)
	worst := laid
	if s.moves.overdue {
		worst = s.moves.film
	}
	a.wetWarn, a.wetPass = alarms(s.plan, worst)
	if s.warned != Never {
		a.wetWarn = s.warned
	}
	if s.passed != Never {
		a.wetPass = s.passed
	}
	s.ahead.edge = a.edge
	c := s.score(laid, s.at)
	c.wetWarn, c.wetPass = a.wetWarn, a.wetPass
	if !s.muted {
		a.cues = c.compose()
	}
	if s.warned != Never {
		a.wetWarn = Never
	}
	if s.passed != Never {
		a.wetPass = Never
	}
	s.ahead = a
	return s.skip()
}

// score is what the cues from a moment on are made from, but for the wet time's.
func (s State) score(laid film, from Elapsed) score {
	c := score{plan: s.plan, film: laid, done: s.moves.film, from: from, quiet: s.given.heard, turned: s.turned,
		wetWarn: Never, wetPass: Never, lead: s.lead}
	if s.blocked(s.ahead.edge) {
		c.blocked, c.block = true, s.ahead.edge.from
		if s.moves.overdue {
			c.due = s.moves.since
			c.overrun = max(s.moves.since, s.given.heard, s.at) + 3*overdueEvery
		}
	}
	return c
}

// Replay is the state of a session whose events these are: what applying them one
// by one comes to, at less cost. What lies ahead is worked out where a later event
// depends on it, and at the end.
func Replay(p *Plan, events []Event) (State, error) {
	s, err := NewState(p)
	if err != nil {
		return s, err
	}
	s.muted = true
	for _, e := range events {
		s = Apply(s, e)
	}
	s.muted = false
	return s.settle(), nil
}

// settle works out what lies ahead as of when that was last called for.
func (s State) settle() State {
	at := s.at
	s.at, s.stale = s.laidAt, false
	s = s.forecast()
	s.at = at
	return s
}

// floor is the moment before which nothing more is laid out: now, but in a countdown
// that nobody cut short not before its end.
func (s State) floor(now Elapsed) Elapsed {
	if start, _, _, _ := span(s.moves.film.row(s.plan, 0)); start != Never {
		return now
	}
	return max(0, now)
}

// lay lays the film out, nothing before floor.
func (s State) lay(floor Elapsed) film {
	l := layout{plan: s.plan, rates: s.rates, doses: s.moves.doses, done: s.moves.film, floor: floor, lift: s.moves.lift}
	l.courses = make([]chem.Course, len(s.plan.Steps))
	for i := range s.plan.Steps {
		if s.plan.Steps[i].Works != nil {
			l.courses[i] = s.course(i)
		}
	}
	f, err := l.lay()
	if err != nil { // cannot be: the rates go on past their tables
		return slices.Clone(s.moves.film)
	}
	return f
}

// course is the temperature of step i's bath: as planned, and as read.
func (s State) course(i int) chem.Course {
	st := &s.plan.Steps[i]
	c := s.plan.course(st)
	if s.moves.readings != nil {
		c.Readings = s.moves.readings.rows[i]
	}
	return c
}

// converted is what a temperature may be off by converting it from Fahrenheit, in K.
const converted = 1e-9

// outside reports whether no time is known at a temperature: more than a degree past
// the ends of a table it is counted by the table's last slope, and is uncertain.
func (w *Temperature) outside(t chem.Celsius) bool {
	n := len(w.Table)
	return n > 0 && (t < w.Table[0].T-chem.Beyond-converted || t > w.Table[n-1].T+chem.Beyond+converted)
}

// uncertain reports whether step i's bath was outside its table at some moment between
// two, as far as it was read.
func (s State) uncertain(i int, from, to Elapsed) bool {
	w := s.plan.Steps[i].Works
	if w == nil || len(w.Table) == 0 {
		return false
	}
	c := s.course(i)
	for _, r := range c.Readings {
		if r.At > from && r.At < to && w.outside(r.T) {
			return true
		}
	}
	return w.outside(c.At(from)) || w.outside(c.At(max(from, to)))
}

// dose is the development of film in step i from in to t.
func (s State) dose(i int, in, t Elapsed) Elapsed {
	if s.plan.Steps[i].Works == nil {
		return t - in
	}
	d, err := chem.Dose(s.rates[i], s.course(i), in, t)
	if err != nil {
		return t - in
	}
	return d
}

// nextEdge is the earliest change of bath that has not happened.
func (s State) nextEdge(laid film) edge {
	p, next := s.plan, edge{at: Never}
	consider := func(at Elapsed, from, k int, all bool) {
		e := edge{at: at, from: from, sheet: k + 1}
		if all {
			e.sheet = 0
		}
		if at < next.at {
			next = e
		}
	}
	for i := range p.Steps {
		done, row := s.moves.film.row(p, i), laid.row(p, i)
		for k := range row {
			if i == 0 && done[k].in == Never {
				consider(row[k].in, -1, k, !p.Steps[0].Stack)
			}
			if done[k].in != Never && done[k].out == Never {
				consider(row[k].out, i, k, p.together(i) && s.allIn(i))
			}
		}
	}
	return next
}

// due is when e is due by the film's time in its bath, however long ago that was.
func (s State) due(e edge) Elapsed {
	k, laid := max(e.sheet-1, 0), s.lay(0)
	if e.from < 0 {
		return laid.row(s.plan, 0)[k].in
	}
	return laid.row(s.plan, e.from)[k].out
}

func (s State) allIn(i int) bool {
	for k, y := range s.moves.film.row(s.plan, i) {
		if y.in == Never && !s.moves.film.aside(s.plan, k) {
			return false
		}
	}
	return true
}

// blocked reports whether moving on at e waits for the person: while held, and
// at the end of a step that says so.
func (s State) blocked(e edge) bool {
	if e.at == Never {
		return false
	}
	if s.moves.held {
		return true
	}
	if e.from < 0 || !s.plan.Steps[e.from].Wait || s.moves.lift.of(e.from) {
		return false
	}
	for k, y := range s.moves.film.row(s.plan, e.from) {
		if y.out != Never && !s.moves.film.aside(s.plan, k) {
			return false
		}
	}
	return true
}

// wake is the earliest moment at which something is due.
func (s State) wake() Elapsed {
	a := s.ahead
	w := min(a.wetWarn, a.wetPass)
	if a.next < len(a.cues) {
		w = min(w, a.cues[a.next].At)
	}
	if !s.moves.overdue {
		w = min(w, a.edge.at)
	}
	return w
}

// Due is the next moment at which something falls due, and false where nothing will.
func (s State) Due() (Elapsed, bool) { return s.ahead.wake, s.ahead.wake != Never }

// Ahead lists the cues with from <= At < to: what was given in the last moments,
// and what is to come. Whoever plays them knows which have begun.
func (s State) Ahead(from, to Elapsed) []Cue {
	var list []Cue
	for _, c := range s.given.cues {
		if c.At >= from && c.At < to {
			list = append(list, c)
		}
	}
	for _, c := range s.ahead.cues[s.ahead.next:] {
		if c.At >= to {
			break
		}
		if c.At >= from {
			list = append(list, c.Cue)
		}
	}
	return list
}
