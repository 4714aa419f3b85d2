package engine

// Every rule of a running session. Decide is pure: first all that is due, in
// the order in which it is due, then the command, then what that made due.

import (
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Decide returns what happens at now when c is asked of s. A moment before the
// last event counts as that event's. The same now twice adds nothing.
func Decide(s State, c sequence.Command, now sequence.Elapsed) []sequence.Event {
	if _, ok := c.(sequence.Wake); ok && now < s.forecastNow.wake {
		return nil
	}
	d := decision{s: s, now: now}
	if g, ok := c.(sequence.Gap); ok {
		d.fallDue(min(g.From, now))
		d.gap(g.From, now)
	} else if r, ok := c.(sequence.Resume); ok && !s.Refuse(c, now).Refused() {
		d.resume(r)
	} else {
		d.fallDue(now)
		d.carryOutCommand(c)
	}
	d.fallDue(now)
	return d.events
}

// decision gathers events, applying each before the next is decided.
type decision struct {
	s      State
	now    sequence.Elapsed
	act    int // number of the person's act that is being carried out, and of what it made due; 0 for none
	events []sequence.Event
}

// emit adds an event. One that was due before the last event keeps that moment
// in Since: the record never runs backwards.
func (d *decision) emit(e sequence.Event) {
	if d.s.began && e.At < d.s.at {
		if e.Since == nil && e.Kind != sequence.CueGiven {
			e.Since = new(e.At)
		}
		e.At = d.s.at
	}
	e.Act = d.act
	d.s = Apply(d.s, e)
	d.events = append(d.events, e)
}

// fallDue lets happen all that is due at t or before.
func (d *decision) fallDue(t sequence.Elapsed) {
	for d.s.forecastNow.wake <= t {
		a := d.s.forecastNow
		switch at := a.wake; {
		case a.wetWarn == at:
			d.cueBefore(-1, at)
			d.emit(sequence.Event{At: at, Kind: sequence.WetWarned})
		case a.wetPass == at:
			d.cueBefore(-1, at)
			d.emit(sequence.Event{At: at, Kind: sequence.WetPassed})
		case a.change.at == at && !d.s.filmState.overdue:
			d.leaveOrWait(at)
		default:
			d.giveCue(a.cues[a.next])
		}
	}
}

// cueBefore gives the next cue if it belongs to this instant and to a bath
// before, or being, step.
func (d *decision) cueBefore(step int, at sequence.Elapsed) bool {
	a := d.s.forecastNow
	if a.next >= len(a.cues) {
		return false
	}
	c := a.cues[a.next]
	if c.At != at || c.During > step && c.Kind != sequence.CueLoad {
		return false
	}
	d.giveCue(c)
	return true
}

func (d *decision) giveCue(c schedule.PlacedCue) {
	d.emit(sequence.Event{At: c.At, Kind: sequence.CueGiven, Cue: c.Kind, For: c.For, Step: c.Step, Sheet: c.Sheet})
	if c.Kind == sequence.CueTransfer && c.Sheet != 0 && d.s.plan.GathersPulled(c.During) {
		d.emit(sequence.Event{At: c.At, Kind: sequence.SetAside, Step: c.Step, Sheet: c.Sheet})
	}
}

// leaveOrWait carries out the next change of bath, after the cues of the bath
// that is left; or notes that its time is up where the person must say so.
func (d *decision) leaveOrWait(at sequence.Elapsed) {
	e := d.s.forecastNow.change
	if d.s.blocked(e) {
		o := sequence.Event{At: at, Kind: sequence.Overran, Step: d.s.plan.StepName(e.from), Sheet: e.sheet}
		if due := d.s.due(e); due < at {
			o.Since = &due
		}
		d.emit(o)
		return
	}
	if !d.cueBefore(e.from, at) {
		d.leave(e, at)
	}
}

// leave records film changing baths, and the steps that this ends and begins.
func (d *decision) leave(e bathChange, at sequence.Elapsed) {
	p := d.s.plan
	begins := e.from+1 < len(p.Steps) && d.s.empty(e.from+1) && !(p.TakesPulled(e.from+1) && d.s.entered(e.from+1))
	if e.from >= 0 && p.Steps[e.from].PullsSheets() {
		d.emit(sequence.Event{At: at, Kind: sequence.Pulled, Step: p.StepName(e.from), Sheet: e.sheet})
	} else {
		d.emit(sequence.Event{At: at, Kind: sequence.Transferred, Step: p.StepName(e.from + 1), Sheet: e.sheet})
	}
	if e.from >= 0 && d.s.empty(e.from) && d.s.allIn(e.from) {
		d.emit(sequence.Event{At: at, Kind: sequence.StepEnded, Step: p.StepName(e.from)})
	}
	if begins {
		d.emit(sequence.Event{At: at, Kind: sequence.StepBegan, Step: p.StepName(e.from + 1)})
	}
	if d.s.forecastNow.change.at == sequence.Never {
		d.emit(sequence.Event{At: at, Kind: sequence.SessionDone})
	}
}

// carryOutCommand carries out what was asked, if it can be done.
func (d *decision) carryOutCommand(c sequence.Command) {
	if d.s.Refuse(c, d.now).Refused() {
		return
	}
	switch c := c.(type) {
	case sequence.Begin:
		d.emit(sequence.Event{At: d.now, Kind: sequence.SessionBegan, ID: c.ID, Version: c.Version})
	case sequence.Report:
		d.emit(sequence.Event{At: d.now, Kind: c.Kind, Text: c.Text})
	case sequence.AddNote:
		d.emit(sequence.Event{At: d.now, Kind: sequence.Noted, Text: c.Text})
	case sequence.EndSession:
		d.emit(sequence.Event{At: d.now, Kind: sequence.SessionStopped})
	case sequence.Undo:
		d.emit(sequence.Event{At: d.now, Kind: sequence.Undone})
	case sequence.TakeReading:
		if c.Source == sequence.ByHand {
			d.act = d.s.act + 1
		}
		d.takeReading(c)
	default:
		d.act = d.s.act + 1
		d.carryOut(c)
	}
}

// tellChange is by how much readings must have moved the end of developing
// before that is told.
const tellChange = 10 * time.Second

// takeReading takes in a temperature, and tells where it moves the end of developing.
func (d *decision) takeReading(c sequence.TakeReading) {
	e := sequence.Event{At: d.now, Kind: sequence.ReadingTaken, Temperature: &c.T, Source: c.Source}
	if at := d.now - c.Ago; c.Ago > 0 {
		e.Since = &at
	}
	for i := range d.s.plan.Steps {
		w := d.s.plan.Steps[i].TimeByTemperature
		e.Uncertain = e.Uncertain || w != nil && outside(w, c.T)
	}
	d.emit(e)
	edge := d.s.forecastNow.change
	if edge.from < 0 || d.s.plan.Steps[edge.from].TimeByTemperature == nil || d.s.filmState.overdue {
		return
	}
	if change := edge.at - d.s.announced; change.Abs() > tellChange {
		d.emit(sequence.Event{At: d.now, Kind: sequence.CueGiven, Cue: sequence.CueReading, Step: d.s.plan.StepName(edge.from), For: edge.at - d.now, Change: change})
	}
}

// carryOut does what can be undone.
func (d *decision) carryOut(c sequence.Command) {
	switch c := c.(type) {
	case sequence.MoveOn, sequence.Pull:
		d.moveNow()
	case sequence.Hold:
		d.emit(sequence.Event{At: d.now, Kind: sequence.Held})
	case sequence.EndHold:
		d.emit(sequence.Event{At: d.now, Kind: sequence.HoldEnded})
	case sequence.SetSheetAside:
		d.setAside(c.Sheet)
	case sequence.MarkLate:
		from := d.s.plan.StepName(d.s.where(c.Sheet-1) - 1)
		d.emit(sequence.Event{At: d.now, Kind: sequence.LateReported, Step: from, Sheet: c.Sheet})
		if !d.s.filmState.held {
			d.emit(sequence.Event{At: d.now, Kind: sequence.Held, Step: from, Sheet: c.Sheet})
		}
	}
}

// setAside takes a sheet out of the session; its bath may end with it.
func (d *decision) setAside(sheet int) {
	from := d.s.where(sheet - 1)
	d.emit(sequence.Event{At: d.now, Kind: sequence.SetAside, Step: d.s.plan.StepName(from), Sheet: sheet, Source: sequence.ByHand})
	if d.s.empty(from) && d.s.allIn(from) {
		d.emit(sequence.Event{At: d.now, Kind: sequence.StepEnded, Step: d.s.plan.StepName(from)})
	}
}

// moveNow carries out the next change of bath at once, with its cue, and ends a hold;
// out of a bath that waited for the person it begins with the drain.
func (d *decision) moveNow() {
	e, p := d.s.forecastNow.change, d.s.plan
	if d.s.lifts(e) {
		d.emit(sequence.Event{At: d.now, Kind: sequence.HoldEnded, Step: p.StepName(e.from), Sheet: e.sheet})
		return
	}
	if kind := actOf(p, e.from); kind != sequence.CueDone || lastSheetOut(d.s.filmState, e) {
		d.emit(sequence.Event{At: d.now, Kind: sequence.CueGiven, Cue: kind, Step: p.StepName(max(e.from, 0)), Sheet: e.sheet})
	}
	held := d.s.filmState.held
	d.leave(e, d.now)
	if held && d.s.over == "" {
		d.emit(sequence.Event{At: d.now, Kind: sequence.HoldEnded})
	}
}
