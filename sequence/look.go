package sequence

// What screen and voice may tell of a session at a moment.

import (
	"example.org/wetside/chem"
)

// Look is a session at one moment, ready to be shown.
type Look struct {
	Now     Elapsed
	Began   bool
	Over    EventKind // SessionDone, SessionStopped, or "" while it lasts
	Step    int       // the last step to have begun; -1 before the first dip
	Light   Light     // of that step
	Lit     bool      // the person asked for light
	Offer   bool      // light has been offered
	In      Elapsed   // time in the step
	Left    Elapsed   // until the next change of bath; negative when overdue
	Held    bool
	Row     bool // sheets are moving on one by one, some gone, some to come
	Waiting bool // the step's time is up and it waits for the person
	Overdue Elapsed
	Next    Next
	Hands   *Hand  // what they do now; nil before the first sheet is in, and after the last
	Cue     *Cue   // the last one given
	Coming  *Cue   // the next one, ticks left out
	Sound   string // why there is no sound; "" while there is
	Develop *Developed
	Sheets  []SheetLook
	Worst   int     // index into Sheets of the longest wet time by its limit, of those not set aside
	Wet     Wet     // forecast, overruns until now included
	End     Elapsed // of the session, forecast
	CanUndo bool
	Film    []Passage // laid out to the end
}

// Next is the coming change of bath.
type Next struct {
	At    Elapsed // Never: none left
	Step  int     // that is entered; len(steps) for the last lift
	Sheet int     // 0 for all
	Take  bool    // a sheet is taken out
}

// Developed is how far development has come, as time at the reference.
type Developed struct {
	Done, Of    Elapsed
	At          *chem.Celsius // reference; nil where none
	Temperature *chem.Celsius // of the bath now; nil where unknown
	Uncertain   bool          // the bath was outside the recipe's table: counted by its last slope
}

// SheetLook is one sheet's place and wet time.
type SheetLook struct {
	Step int // -1 dry, len(steps) out
	Wet  Elapsed
	Used float64 // share of the limits

	Aside bool // set aside in plain water
	// Given is the share of its development that a sheet with a time of its own left the
	// developer with, or has while it is overdue there, or will have where a film test
	// leaves together; 0 elsewhere.
	Given float64
	// Uncertain says that Given counts time in a bath outside the recipe's table.
	Uncertain bool
}

// Plan is the plan that the session carries out.
func (s State) Plan() *Plan { return s.plan }

// At is the moment of the last event.
func (s State) At() Elapsed { return s.at }

// Look tells all that may be shown of the session at now.
func (s State) Look(now Elapsed) Look {
	p, e := s.plan, s.ahead.edge
	l := Look{Now: now, Began: s.began, Over: s.over, Step: -1, Lit: s.lit, Offer: s.offer, Held: s.moves.held, Sound: s.sound}
	if !s.began {
		return l
	}
	laid := s.moves.film
	if s.over == "" {
		laid = s.lay(s.floor(now))
	}
	s.lookStep(&l, now)
	l.Next = Next{At: e.at, Step: e.from + 1, Sheet: e.sheet, Take: e.from >= 0 && p.Steps[e.from].TakesOut()}
	l.Row = s.inRow(e)
	if e.at != Never {
		l.Left = e.at - now
		if s.moves.overdue {
			l.Overdue, l.Left = now-s.moves.since, s.moves.since-now
			l.Waiting = !s.moves.held
		}
	}
	if h, ok := s.Hands(now); ok {
		l.Hands = &h
	}
	s.lookCues(&l)
	s.lookWet(&l, laid, now)
	l.CanUndo = s.Refuse(Undo{}, now) == ""
	return l
}

// inRow reports whether e is in the middle of a row of moves: two presses pause it.
func (s State) inRow(e edge) bool {
	if e.at == Never || e.from < 0 || e.sheet == 0 || s.plan.Steps[e.from].TakesOut() {
		return false
	}
	for k, y := range s.moves.film.row(s.plan, e.from) {
		if y.out != Never && !s.moves.film.aside(s.plan, k) {
			return true
		}
	}
	return false
}

func (s State) lookStep(l *Look, now Elapsed) {
	p := s.plan
	for i := range p.Steps {
		for k, y := range s.moves.film.row(p, i) {
			if y.in == Never {
				continue
			}
			if i > l.Step {
				l.Step, l.In = i, now-y.in
			}
			if p.Steps[i].Kind == Develop && y.out == Never && l.Develop == nil {
				l.Develop = s.developed(i, k, now)
			}
		}
	}
	l.Light = p.Steps[max(0, l.Step)].RoomLight
}

// developed is how far the sheet that leads step i has come.
func (s State) developed(i, k int, now Elapsed) *Developed {
	st := &s.plan.Steps[i]
	row := s.moves.film.row(s.plan, i)
	d := &Developed{Of: s.moves.doses[i]}
	if st.tests() {
		d.Of = st.Doses[k]
	}
	d.Done = s.dose(i, row[k].in, max(now, row[k].in))
	if st.Works != nil {
		t := s.course(i).At(now)
		d.At, d.Temperature = &st.Works.At, &t
		d.Uncertain = s.uncertain(i, row[k].in, now)
	}
	return d
}

func (s State) lookCues(l *Look) {
	if n := len(s.given.cues); n > 0 {
		c := s.given.cues[n-1]
		l.Cue = &c
	}
	for _, c := range s.ahead.cues[min(s.ahead.next, len(s.ahead.cues)):] {
		if c.Kind != CueTick {
			l.Coming = &c.Cue
			break
		}
	}
}

func (s State) lookWet(l *Look, laid film, now Elapsed) {
	p := s.plan
	l.Worst = -1
	for k := range p.Sheets {
		w := soaked(p, laid, k, now)
		l.Sheets = append(l.Sheets, SheetLook{Step: s.where(k), Wet: w.wet, Used: w.used,
			Aside: s.moves.film.aside(p, k), Given: s.developedBy(laid, k, now), Uncertain: s.doubtful(k, now)})
		if l.Sheets[k].Aside {
			continue
		}
		if l.Worst < 0 || w.used > l.Sheets[l.Worst].Used || w.used == l.Sheets[l.Worst].Used && w.wet > l.Sheets[l.Worst].Wet {
			l.Worst = k
		}
	}
	l.Worst = max(0, l.Worst)
	l.Film = laid.passages(p)
	if s.over == SessionStopped {
		l.End = s.at
		return
	}
	l.Wet = tally(p, laid)
	l.Wet.LimitAt = s.limitAt(laid)
	_, _, _, l.End = span(laid.row(p, len(p.Steps)-1))
}

// limitAt is when the worst sheet will have used its limit: a bath that is overdue
// lasts until somebody ends it, as the alarm has it. nil where none is known.
func (s State) limitAt(laid film) *Elapsed {
	if s.moves.overdue {
		laid = s.moves.film
	}
	if at := limitAt(s.plan, laid); at != Never {
		return &at
	}
	return nil
}

// LimitAt is when the worst sheet uses, or used, its limit up, by what has happened and
// what is to come; nil where none is known.
func (s State) LimitAt() *Elapsed {
	if s.over != "" || !s.began {
		return s.limitAt(s.moves.film)
	}
	return s.limitAt(s.lay(s.floor(s.at)))
}

// developedBy is how far sheet k has developed, where it has left its developer or is
// overdue; of a film test that leaves together how far it will have when all leave.
func (s State) developedBy(laid film, k int, now Elapsed) float64 {
	e, at := s.ahead.edge, s.where(k)
	switch {
	case at >= 0 && at < len(s.plan.Steps) && s.plan.Steps[at].joins():
		return s.share(at, k, laid.row(s.plan, at)[k].out)
	case s.moves.overdue && e.sheet == k+1 && e.from >= 0 && s.plan.Steps[e.from].Kind == Develop && s.plan.own(e.from):
		return s.share(e.from, k, now)
	case s.moves.given != nil:
		return s.moves.given[k]
	}
	return 0
}

// doubtful reports whether sheet k was, up to a moment, in a bath outside its table.
func (s State) doubtful(k int, now Elapsed) bool {
	for i := range s.plan.Steps {
		if y := s.moves.film.row(s.plan, i)[k]; y.in != Never && s.uncertain(i, y.in, min(y.out, max(now, y.in))) {
			return true
		}
	}
	return false
}

// Over is SessionDone or SessionStopped; "" while the session lasts.
func (s State) Over() EventKind { return s.over }
