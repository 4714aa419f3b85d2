package live

// The loop: time and commands in, events and cues out.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
)

type loop struct {
	*Session
	now         engine.State
	last        clock.Mark     // of the last decision
	recorded    clock.Mark     // of the last record
	cuesAt      clock.Mark     // when the ear was last told
	wallChecked clock.Mark     // against which the wall clock is compared
	intended    []sequence.Cue // transfers that are on record as due
}

// run carries the session out, and tells that it has ended. Nothing of that is
// deferred: after a panic others still run for a moment, and nobody may take it for
// the end of the session, which goes on in another process.
func (l *loop) run() {
	l.carryOut()
	l.log.end()
	close(l.ended)
}

// carryOut goes on until the session is over or closed. Timers only wake it up;
// what is due is decided by the clock.
func (l *loop) carryOut() {
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		mark := l.clock.Mark()
		l.checkGap(mark)
		l.checkWallClock(mark)
		for _, r := range l.mailbox.take() {
			l.handle(r)
		}
		l.decide(sequence.Wake{})
		if l.over() {
			return
		}
		l.intend(mark)
		l.heartbeat(mark)
		l.scheduleCues(false)
		timer.Reset(l.wait())
		select {
		case <-timer.C:
		case <-l.mailbox.signal:
		case <-l.ctx.Done():
			return
		}
	}
}

func (l *loop) over() bool { return l.now.Over() != "" }

// wait is how long nothing will be due.
func (l *loop) wait() time.Duration {
	if due, ok := l.now.Due(); ok {
		return min(max(0, l.clock.Until(due)), poll)
	}
	return poll
}

// handle first lets fall due what is due, so that a request is judged by the state
// in which it is decided.
func (l *loop) handle(r request) {
	at := l.clock.Mark().Elapsed
	l.decideAt(sequence.Wake{}, at)
	why := l.now.Refuse(r.command, at)
	l.decideAt(r.command, at)
	if r.answer != nil {
		r.answer <- why
	}
}

func (l *loop) decide(c sequence.Command) { l.decideAt(c, l.clock.Mark().Elapsed) }

// decideAt puts a command to the state and carries out what comes of it.
func (l *loop) decideAt(c sequence.Command, at sequence.Elapsed) {
	mark := l.clock.Mark()
	events := engine.Decide(l.now, c, at)
	l.last = mark
	if len(events) == 0 {
		return
	}
	for _, e := range events {
		l.now = engine.Apply(l.now, e)
		var r journal.Record
		if l.log.Len() == 0 {
			r = l.firstRecord
		}
		r.Event, r.Clock = e, mark
		l.log.append(r)
	}
	l.recorded = mark
	state := l.now
	l.state.Store(&state)
	l.scheduleCues(true)
}

// checkGap tells that the program did not run for a while.
func (l *loop) checkGap(now clock.Mark) {
	if away := clock.Passed(l.last, now); away > gapAfter && clock.SameBoot(l.last, now) {
		l.decide(sequence.Gap{From: l.last.Elapsed, To: now.Elapsed})
	}
}

// checkWallClock records that the wall clock was set; no edge moves.
func (l *loop) checkWallClock(now clock.Mark) {
	if l.wallChecked.Boot == "" || clock.Passed(l.wallChecked, now) > heartbeat {
		l.wallChecked = now
		return
	}
	if step, ok := clock.Jumped(l.wallChecked, now); ok {
		l.wallChecked = now
		l.decide(sequence.Report{Kind: sequence.ClockJumped, Text: fmt.Sprintf("the wall clock was set by %s", step.Round(time.Millisecond))})
	}
}

// heartbeat records a heartbeat where nothing else was recorded for a while: a session that
// is cut off is taken up from its last record.
func (l *loop) heartbeat(now clock.Mark) {
	if l.recorded.Boot != "" && clock.Passed(l.recorded, now) < heartbeat {
		return
	}
	l.recorded = now
	l.log.append(journal.Record{Event: sequence.Event{At: now.Elapsed, Kind: sequence.Heartbeat}, Clock: now})
}

// scheduleCues gives the ear what is to be heard in the next seconds of real time.
func (l *loop) scheduleCues(changed bool) {
	now := l.clock.Mark()
	if l.ear == nil || !changed && l.cuesAt.Boot != "" && clock.Passed(l.cuesAt, now) < cuesEvery {
		return
	}
	l.cuesAt = now
	far := l.ahead(now, cueHorizon)
	l.ear.Schedule(l.now.Ahead(now.Elapsed-far, now.Elapsed+far))
}

// ahead is so much real time as process time, or up to twice as much: a rehearsal's clock is fast.
func (l *loop) ahead(now clock.Mark, real time.Duration) time.Duration {
	far := real
	for l.clock.Until(now.Elapsed+far) < real/2 {
		far *= 2
	}
	return far
}

// intend records each transfer a moment before it is due: should the program die with the cue
// on its way, or before the disk has it, who takes the session up knows of it all the same.
func (l *loop) intend(now clock.Mark) {
	for _, c := range l.now.Ahead(now.Elapsed, now.Elapsed+l.ahead(now, intendAhead)) {
		if c.Kind != sequence.CueTransfer && c.Kind != sequence.CuePull || slices.ContainsFunc(l.intended, c.SameAs) {
			continue
		}
		l.intended = append(l.intended, c)
		l.recorded = now
		l.log.append(journal.Record{Clock: now,
			Event: sequence.Event{At: c.At, Kind: sequence.TransferDue, Cue: c.Kind, Step: c.Step, Sheet: c.Sheet}})
	}
}
