package engine

// What screen and voice may tell of a session at a moment.

import (
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
	CuesGoOn     int            // of those, the one behind which its rhythm goes on and is left out; 0 for none
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
	Pull  bool             // a sheet is pulled
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
	lookStep(s, &l, now)
	l.Next = Transfer{At: e.at, Step: e.from + 1, Sheet: e.sheet, Pull: e.from >= 0 && p.Steps[e.from].PullsSheets()}
	l.InRow = inRow(s.filmState, e)
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
	lookCues(s, &l)
	lookWet(s, &l, laid, now)
	l.CanUndo = !s.Refuse(sequence.Undo{}, now).Refused()
	return l
}

func lookStep(s State, l *Snapshot, now sequence.Elapsed) {
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
				l.Develop = developedSoFar(s.filmState, i, k, now)
				l.Develop.withErrors(s.filmState, i, y.In, now, outAt(s, i, k))
			}
		}
	}
	l.Light = p.Steps[max(0, l.Step)].RoomLight
}

// outAt is when sheet k leaves step i, as it is forecast; Never where that is open.
func outAt(s State, i, k int) sequence.Elapsed {
	if s.forecastNow.film == nil {
		return sequence.Never
	}
	return s.forecastNow.film.Row(s.plan, i)[k].Out
}

func lookCues(s State, l *Snapshot) {
	if n := len(s.givenCues.cues); n > 0 {
		c := s.givenCues.cues[n-1]
		l.LastCue = &c
	}
	for _, c := range s.forecastNow.cues[min(s.forecastNow.next, len(s.forecastNow.cues)):] {
		switch {
		case c.Kind == sequence.CueTick:
			continue
		case len(l.Cues) >= rhythmAhead && ofRhythm(c.Kind):
			if n := len(l.Cues); n == rhythmAhead && ofRhythm(l.Cues[n-1].Kind) {
				l.CuesGoOn = n
			}
			continue
		}
		l.Cues = append(l.Cues, c.Cue)
		if len(l.Cues) == cuesAhead {
			break
		}
	}
	if len(l.Cues) > 0 {
		l.NextCue = &l.Cues[0]
	}
}

// cuesAhead is how many of the coming cues are shown; behind so many of them none of a rhythm that goes on,
// so that what ends it is seen.
const cuesAhead, rhythmAhead = 5, 3

// ofRhythm reports whether a kind of cue comes again and again in a bath.
func ofRhythm(k sequence.CueKind) bool {
	return k == sequence.CueShuffle || k == sequence.CueAgitate || k == sequence.CueStand || k == sequence.CueReverse
}

func lookWet(s State, l *Snapshot, laid schedule.Stays, now sequence.Elapsed) {
	p := s.plan
	l.Passages = laid.Passages(p)
	limitAt, stopped := limitOf(s.filmState, laid), s.over == sequence.SessionStopped
	if stopped { // what was wet then counts up to then
		now, laid = min(now, s.at), laid.Until(s.at)
	}
	l.Wettest = -1
	for k := range p.Sheets {
		w := schedule.WetTimeOf(p, laid, k, now)
		l.Sheets = append(l.Sheets, SheetSnapshot{Step: s.where(k), Wet: w.Total, Used: w.Used,
			Aside: s.filmState.film.IsSetAside(p, k), DevelopedShare: developedBy(s, laid, k, now), Uncertain: doubtful(s.filmState, k, now)})
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
func limitOf(f filmState, laid schedule.Stays) *sequence.Elapsed {
	if f.overdue {
		laid = f.film
	}
	if at := schedule.LimitAt(f.plan, laid); at != sequence.Never {
		return &at
	}
	return nil
}

// LimitAt is when the worst sheet uses, or used, its limit up, by what has happened and
// what is to come; nil where none is known.
func (s State) LimitAt() *sequence.Elapsed {
	if s.over != "" || !s.began {
		return limitOf(s.filmState, s.filmState.film)
	}
	return limitOf(s.filmState, s.layOut(s.floor(s.at)))
}

// Over is SessionDone or SessionStopped; "" while the session lasts.
func (s State) Over() sequence.EventKind { return s.over }
