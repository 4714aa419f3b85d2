package engine

// What screen and voice may tell of a session at a moment.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Snapshot is a session at one moment, ready to be shown.
type Snapshot struct {
	Now          sequence.Elapsed
	Began        bool
	Over         sequence.EventKind // SessionDone, SessionStopped, or "" while it lasts
	Step         int                // the last step to have begun; -1 before the first sheet goes in
	Light        sequence.Light     // of that step
	LightOn      bool               // the person asked for light
	LightOffered bool               // light has been offered
	TimeInStep   sequence.Elapsed   // time in the step
	Left         sequence.Elapsed   // until the next change of bath; negative when overdue
	Held         bool
	InRow        bool // sheets are moving on one by one, some gone, some to come
	Waiting      bool // the step's time is up and it waits for the person
	Overdue      sequence.Elapsed
	Next         Transfer
	Hands        *sequence.Hand // what they do now; nil before the first sheet is in, and after the last
	LastCue      *sequence.Cue  // the last one given
	NextCue      *sequence.Cue  // the next one, ticks left out
	Cues         []sequence.Cue // the next ones, as many as a person looks ahead
	SoundLost    string         // why there is no sound; "" while there is
	Develop      *DevelopmentProgress
	Sheets       []SheetSnapshot
	Wettest      int              // index into Sheets of the longest wet time by its limit, of those not set aside
	Wet          sequence.Wet     // forecast, overruns until now included
	End          sequence.Elapsed // of the session, forecast
	CanUndo      bool
	Passages     []sequence.Passage // laid out to the end
}

// Transfer is the coming change of bath.
type Transfer struct {
	At    sequence.Elapsed // Never: none left
	Step  int              // that is entered; len(steps) for the last sheet out
	Sheet int              // 0 for all
	Pull  bool             // a sheet is taken out
}

// DevelopmentProgress is how far development has come, as time at the reference.
type DevelopmentProgress struct {
	Done, Of    sequence.Elapsed
	At          *chem.Celsius // reference; nil where none
	Temperature *chem.Celsius // of the bath now; nil where unknown
	Uncertain   bool          // the bath was outside the recipe's table: counted by its last slope
}

// SheetSnapshot is one sheet's place and wet time.
type SheetSnapshot struct {
	Step int // -1 dry, len(steps) out
	Wet  sequence.Elapsed
	Used float64 // share of the limits

	Aside bool // set aside in plain water
	// DevelopedShare is the share of its development that a sheet with a time of its own left the
	// developer with, or has while it is overdue there, or will have where a film test
	// leaves together; 0 elsewhere.
	DevelopedShare float64
	// Uncertain says that Given counts time in a bath outside the recipe's table.
	Uncertain bool
}

// Plan is the plan that the session carries out.
func (s State) Plan() *sequence.Plan { return s.plan }

// At is the moment of the last event.
func (s State) At() sequence.Elapsed { return s.at }

// Snapshot tells all that may be shown of the session at now.
func (s State) Snapshot(now sequence.Elapsed) Snapshot {
	p, e := s.plan, s.forecastNow.change
	l := Snapshot{Now: now, Began: s.began, Over: s.over, Step: -1, LightOn: s.lit, LightOffered: s.offer, Held: s.filmState.held, SoundLost: s.sound}
	if !s.began {
		return l
	}
	laid := s.filmState.film
	if s.over == "" {
		laid = s.layOut(s.floor(now))
	}
	s.lookStep(&l, now)
	l.Next = Transfer{At: e.at, Step: e.from + 1, Sheet: e.sheet, Pull: e.from >= 0 && p.Steps[e.from].PullsSheets()}
	l.InRow = s.inRow(e)
	if e.at != sequence.Never {
		l.Left = e.at - now
		if s.filmState.overdue {
			l.Overdue, l.Left = now-s.filmState.since, s.filmState.since-now
			l.Waiting = !s.filmState.held
		}
	}
	if h, ok := s.Hands(now); ok {
		l.Hands = &h
	}
	s.lookCues(&l)
	s.lookWet(&l, laid, now)
	l.CanUndo = !s.Refuse(sequence.Undo{}, now).Refused()
	return l
}

// inRow reports whether e is in the middle of a row of moves: two presses pause it.
func (s State) inRow(e bathChange) bool {
	if e.at == sequence.Never || e.from < 0 || e.sheet == 0 || s.plan.Steps[e.from].PullsSheets() {
		return false
	}
	for k, y := range s.filmState.film.Row(s.plan, e.from) {
		if y.Out != sequence.Never && !s.filmState.film.IsSetAside(s.plan, k) {
			return true
		}
	}
	return false
}

func (s State) lookStep(l *Snapshot, now sequence.Elapsed) {
	p := s.plan
	for i := range p.Steps {
		for k, y := range s.filmState.film.Row(p, i) {
			if y.In == sequence.Never {
				continue
			}
			if i > l.Step {
				l.Step, l.TimeInStep = i, now-y.In
			}
			if p.Steps[i].Kind == sequence.Develop && y.Out == sequence.Never && l.Develop == nil {
				l.Develop = s.developed(i, k, now)
			}
		}
	}
	l.Light = p.Steps[max(0, l.Step)].RoomLight
}

// developed is how far the sheet that leads step i has come.
func (s State) developed(i, k int, now sequence.Elapsed) *DevelopmentProgress {
	st := &s.plan.Steps[i]
	row := s.filmState.film.Row(s.plan, i)
	d := &DevelopmentProgress{Of: s.filmState.doses[i]}
	if st.IsFilmTest() {
		d.Of = st.Doses[k]
	}
	d.Done = s.dose(i, row[k].In, max(now, row[k].In))
	if st.TimeByTemperature != nil {
		t := s.course(i).At(now)
		d.At, d.Temperature = &st.TimeByTemperature.At, &t
		d.Uncertain = s.uncertain(i, row[k].In, now)
	}
	return d
}

func (s State) lookCues(l *Snapshot) {
	if n := len(s.givenCues.cues); n > 0 {
		c := s.givenCues.cues[n-1]
		l.LastCue = &c
	}
	for _, c := range s.forecastNow.cues[min(s.forecastNow.next, len(s.forecastNow.cues)):] {
		if c.Kind != sequence.CueTick {
			l.Cues = append(l.Cues, c.Cue)
		}
		if len(l.Cues) == cuesAhead {
			break
		}
	}
	if len(l.Cues) > 0 {
		l.NextCue = &l.Cues[0]
	}
}

// cuesAhead is how many of the coming cues are shown.
const cuesAhead = 5

func (s State) lookWet(l *Snapshot, laid schedule.Stays, now sequence.Elapsed) {
	p := s.plan
	l.Passages = laid.Passages(p)
	limitAt, stopped := s.limitAt(laid), s.over == sequence.SessionStopped
	if stopped { // what was wet then counts up to then
		now, laid = min(now, s.at), laid.Until(s.at)
	}
	l.Wettest = -1
	for k := range p.Sheets {
		w := schedule.WetTimeOf(p, laid, k, now)
		l.Sheets = append(l.Sheets, SheetSnapshot{Step: s.where(k), Wet: w.Total, Used: w.Used,
			Aside: s.filmState.film.IsSetAside(p, k), DevelopedShare: s.developedBy(laid, k, now), Uncertain: s.doubtful(k, now)})
		if l.Sheets[k].Aside {
			continue
		}
		if l.Wettest < 0 || w.Used > l.Sheets[l.Wettest].Used || w.Used == l.Sheets[l.Wettest].Used && w.Total > l.Sheets[l.Wettest].Wet {
			l.Wettest = k
		}
	}
	l.Wettest = max(0, l.Wettest)
	l.Wet, l.End = schedule.WorstWet(p, laid), s.at
	l.Wet.LimitAt = limitAt
	if !stopped {
		_, _, _, l.End = schedule.Bounds(laid.Row(p, len(p.Steps)-1))
	}
}

// LimitAt is when the worst sheet will have used its limit: a bath that is overdue
// lasts until somebody ends it, as the alarm has it. nil where none is known.
func (s State) limitAt(laid schedule.Stays) *sequence.Elapsed {
	if s.filmState.overdue {
		laid = s.filmState.film
	}
	if at := schedule.LimitAt(s.plan, laid); at != sequence.Never {
		return &at
	}
	return nil
}

// LimitAt is when the worst sheet uses, or used, its limit up, by what has happened and
// what is to come; nil where none is known.
func (s State) LimitAt() *sequence.Elapsed {
	if s.over != "" || !s.began {
		return s.limitAt(s.filmState.film)
	}
	return s.limitAt(s.layOut(s.floor(s.at)))
}

// developedBy is how far sheet k has developed, where it has left its developer or is
// overdue; of a film test that leaves together how far it will have when all leave.
func (s State) developedBy(laid schedule.Stays, k int, now sequence.Elapsed) float64 {
	e, at := s.forecastNow.change, s.where(k)
	switch {
	case at >= 0 && at < len(s.plan.Steps) && s.plan.Steps[at].StaggeredEntry():
		return s.share(at, k, laid.Row(s.plan, at)[k].Out)
	case s.filmState.overdue && e.sheet == k+1 && e.from >= 0 && s.plan.Steps[e.from].Kind == sequence.Develop && s.plan.OwnTimes(e.from):
		return s.share(e.from, k, now)
	case s.filmState.developed != nil:
		return s.filmState.developed[k]
	}
	return 0
}

// doubtful reports whether sheet k was, up to a moment, in a bath outside its table.
func (s State) doubtful(k int, now sequence.Elapsed) bool {
	for i := range s.plan.Steps {
		if y := s.filmState.film.Row(s.plan, i)[k]; y.In != sequence.Never && s.uncertain(i, y.In, min(y.Out, max(now, y.In))) {
			return true
		}
	}
	return false
}

// Over is SessionDone or SessionStopped; "" while the session lasts.
func (s State) Over() sequence.EventKind { return s.over }
