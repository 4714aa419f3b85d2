package sequence

// Every rule of a running session. Decide is pure: first all that is due, in
// the order in which it is due, then the command, then what that made due.

import "time"

// Decide returns what happens at now when c is asked of s. A moment before the
// last event counts as that event's. The same now twice adds nothing.
func Decide(s State, c Command, now Elapsed) []Event {
	if _, ok := c.(Wake); ok && now < s.ahead.wake {
		return nil
	}
	d := decision{s: s, now: now}
	if g, ok := c.(Gap); ok {
		d.fallDue(min(g.From, now))
		d.gap(g.From, now)
	} else if r, ok := c.(Resume); ok && s.Refuse(c, now) == "" {
		d.resume(r)
	} else {
		d.fallDue(now)
		d.obey(c)
	}
	d.fallDue(now)
	return d.events
}

// decision gathers events, applying each before the next is decided.
type decision struct {
	s      State
	now    Elapsed
	act    int // number of the person's act that is being carried out, and of what it made due; 0 for none
	events []Event
}

// emit adds an event. One that was due before the last event keeps that moment
// in Since: the record never runs backwards.
func (d *decision) emit(e Event) {
	if d.s.began && e.At < d.s.at {
		if e.Since == nil && e.Kind != CueGiven {
			due := e.At
			e.Since = &due
		}
		e.At = d.s.at
	}
	e.Act = d.act
	d.s = Apply(d.s, e)
	d.events = append(d.events, e)
}

// fallDue lets happen all that is due at t or before.
func (d *decision) fallDue(t Elapsed) {
	for d.s.ahead.wake <= t {
		a := d.s.ahead
		switch at := a.wake; {
		case a.wetWarn == at:
			d.cueBefore(-1, at)
			d.emit(Event{At: at, Kind: WetWarned})
		case a.wetPass == at:
			d.cueBefore(-1, at)
			d.emit(Event{At: at, Kind: WetPassed})
		case a.edge.at == at && !d.s.moves.overdue:
			d.leaveOrWait(at)
		default:
			d.give(a.cues[a.next])
		}
	}
}

// cueBefore gives the next cue if it belongs to this instant and to a bath
// before, or being, step.
func (d *decision) cueBefore(step int, at Elapsed) bool {
	a := d.s.ahead
	if a.next >= len(a.cues) {
		return false
	}
	c := a.cues[a.next]
	if c.At != at || c.step > step && c.Kind != CueLoad {
		return false
	}
	d.give(c)
	return true
}

func (d *decision) give(c placed) {
	d.emit(Event{At: c.At, Kind: CueGiven, Cue: c.Kind, For: c.For, Step: c.Step, Sheet: c.Sheet})
	if c.Kind == CueMove && c.Sheet != 0 && d.s.plan.waits(c.step) {
		d.emit(Event{At: c.At, Kind: SetAside, Step: c.Step, Sheet: c.Sheet})
	}
}

// leaveOrWait carries out the next change of bath, after the cues of the bath
// that is left; or notes that its time is up where the person must say so.
func (d *decision) leaveOrWait(at Elapsed) {
	e := d.s.ahead.edge
	if d.s.blocked(e) {
		o := Event{At: at, Kind: Overran, Step: d.s.plan.name(e.from), Sheet: e.sheet}
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
func (d *decision) leave(e edge, at Elapsed) {
	p := d.s.plan
	begins := e.from+1 < len(p.Steps) && d.s.empty(e.from+1)
	if e.from >= 0 && p.Steps[e.from].TakesOut() {
		d.emit(Event{At: at, Kind: TakenOut, Step: p.name(e.from), Sheet: e.sheet})
	} else {
		d.emit(Event{At: at, Kind: Moved, Step: p.name(e.from + 1), Sheet: e.sheet})
	}
	if e.from >= 0 && d.s.empty(e.from) && d.s.allIn(e.from) {
		d.emit(Event{At: at, Kind: StepEnded, Step: p.name(e.from)})
	}
	if begins {
		d.emit(Event{At: at, Kind: StepBegan, Step: p.name(e.from + 1)})
	}
	if d.s.ahead.edge.at == Never {
		d.emit(Event{At: at, Kind: SessionDone})
	}
}

// empty reports whether no sheet is in step i at present.
func (s State) empty(i int) bool {
	for k := range s.plan.Sheets {
		if s.where(k) == i {
			return false
		}
	}
	return true
}

// gap lets nothing move between from and to, and holds where something should have.
func (d *decision) gap(from, to Elapsed) {
	if !d.s.began || d.s.over != "" {
		return
	}
	missed := d.s.missed(to)
	d.emit(Event{At: to, Kind: GapFound, Since: &from})
	d.holdIf(missed, "a move fell inside the gap: say go when it is done")
}

// missed reports whether a change of bath falls due up to t.
func (s State) missed(t Elapsed) bool {
	return s.ahead.edge.at <= t && !s.moves.overdue
}

func (d *decision) holdIf(needed bool, why string) {
	if needed && !d.s.moves.held {
		d.emit(Event{At: d.now, Kind: Held, Text: why})
	}
}

// resume takes up a session that was cut off.
func (d *decision) resume(r Resume) {
	missed := d.s.missed(d.now)
	d.emit(Event{At: d.now, Kind: Resumed, Since: &r.From, Text: r.Text})
	if r.Gap {
		d.emit(Event{At: d.now, Kind: GapFound, Since: &r.From})
	}
	d.holdIf(r.Gap && missed, "a move fell inside the gap: say go when it is done")
	d.holdIf(r.Ask, "the time away is not known for certain: say go when it is right")
}

// obey carries out what was asked, if it can be done.
func (d *decision) obey(c Command) {
	if d.s.Refuse(c, d.now) != "" {
		return
	}
	switch c := c.(type) {
	case Begin:
		d.emit(Event{At: d.now, Kind: SessionBegan, ID: c.ID, Version: c.Version})
	case Tell:
		d.emit(Event{At: d.now, Kind: c.Kind, Text: c.Text})
	case Remark:
		d.emit(Event{At: d.now, Kind: Noted, Text: c.Text})
	case Stop:
		d.emit(Event{At: d.now, Kind: SessionStopped})
	case Undo:
		d.emit(Event{At: d.now, Kind: Undone})
	case Read:
		if c.Source == ByHand {
			d.act = d.s.act + 1
		}
		d.read(c)
	default:
		d.act = d.s.act + 1
		d.carryOut(c)
	}
}

// tellChange is by how much readings must have moved the end of developing
// before that is told.
const tellChange = 10 * time.Second

// read takes in a temperature, and tells where it moves the end of developing.
func (d *decision) read(c Read) {
	e := Event{At: d.now, Kind: ReadingTaken, Temperature: &c.T, Source: c.Source}
	if at := d.now - c.Ago; c.Ago > 0 {
		e.Since = &at
	}
	for i := range d.s.plan.Steps {
		w := d.s.plan.Steps[i].Works
		e.Uncertain = e.Uncertain || w != nil && w.outside(c.T)
	}
	d.emit(e)
	edge := d.s.ahead.edge
	if edge.at == Never || edge.from < 0 || d.s.plan.Steps[edge.from].Works == nil || d.s.moves.overdue {
		return
	}
	if change := edge.at - d.s.told; change.Abs() > tellChange {
		d.emit(Event{At: d.now, Kind: CueGiven, Cue: CueReading, Step: d.s.plan.name(edge.from), For: edge.at - d.now, Change: change})
	}
}

// carryOut does what can be undone.
func (d *decision) carryOut(c Command) {
	switch c := c.(type) {
	case MoveOn, TakeOut:
		d.moveNow()
	case Hold:
		d.emit(Event{At: d.now, Kind: Held})
	case Go:
		d.emit(Event{At: d.now, Kind: WentOn})
	case Aside:
		d.setAside(c.Sheet)
	case Late:
		from := d.s.plan.name(d.s.where(c.Sheet-1) - 1)
		d.emit(Event{At: d.now, Kind: LateTold, Step: from, Sheet: c.Sheet})
		if !d.s.moves.held {
			d.emit(Event{At: d.now, Kind: Held, Step: from, Sheet: c.Sheet})
		}
	}
}

// setAside takes a sheet out of the session; its bath may end with it.
func (d *decision) setAside(sheet int) {
	from := d.s.where(sheet - 1)
	d.emit(Event{At: d.now, Kind: SetAside, Step: d.s.plan.name(from), Sheet: sheet, Source: ByHand})
	if d.s.empty(from) && d.s.allIn(from) {
		d.emit(Event{At: d.now, Kind: StepEnded, Step: d.s.plan.name(from)})
	}
}

// moveNow carries out the next change of bath at once, with its cue, and ends a hold;
// out of a bath that waited for the person it begins with the drain.
func (d *decision) moveNow() {
	e, p := d.s.ahead.edge, d.s.plan
	if d.s.lifts(e) {
		d.emit(Event{At: d.now, Kind: WentOn, Step: p.name(e.from), Sheet: e.sheet})
		return
	}
	if kind := p.actOf(e.from); kind != CueDone || d.s.lastLift(e) {
		d.emit(Event{At: d.now, Kind: CueGiven, Cue: kind, Step: p.name(max(e.from, 0)), Sheet: e.sheet})
	}
	held := d.s.moves.held
	d.leave(e, d.now)
	if held && d.s.over == "" {
		d.emit(Event{At: d.now, Kind: WentOn})
	}
}

// lifts reports whether the person's word at e only begins the drain: the first to leave
// a bath that waits for it. A second word moves it at once.
func (s State) lifts(e edge) bool {
	if e.from < 0 || s.plan.Steps[e.from].Drain == 0 || !s.plan.Steps[e.from].Wait || s.moves.lift.of(e.from) {
		return false
	}
	s.moves.held = false
	return s.blocked(e)
}

// actOf is the cue whose onset is the act of leaving step from.
func (p *Plan) actOf(from int) CueKind {
	switch {
	case from < 0:
		return CueLoad
	case p.Steps[from].TakesOut():
		return CueTakeOut
	case from == len(p.Steps)-1:
		return CueDone
	}
	return CueMove
}

// lastLift reports whether e takes the last film out of the last bath.
func (s State) lastLift(e edge) bool {
	n := 0
	for k := range s.plan.Sheets {
		if s.where(k) < len(s.plan.Steps) {
			n++
		}
	}
	return e.sheet == 0 || n == 1
}
