package live

// The loop: time and commands in, events and cues out.

import (
	"fmt"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

type loop struct {
	*Session
	now  sequence.State
	last clock.Mark // of the last decision
	beat clock.Mark // of the last record
	told clock.Mark // when the ear was last told
	seen clock.Mark // against which the wall clock is compared
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
		l.gap(mark)
		l.jump(mark)
		for _, r := range l.mailbox.take() {
			l.obey(r)
		}
		l.decide(sequence.Wake{})
		if l.over() {
			return
		}
		l.alive(mark)
		l.tell(false)
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

// obey first lets fall due what is due, so that a request is judged by the state
// in which it is decided.
func (l *loop) obey(r request) {
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
	events := sequence.Decide(l.now, c, at)
	l.last = mark
	if len(events) == 0 {
		return
	}
	for _, e := range events {
		l.now = sequence.Apply(l.now, e)
		r := journal.Record{Event: e, Clock: mark}
		if l.log.Len() == 0 {
			r.Rehearsal, r.Moves, r.Dark = l.zero.Rehearsal, l.zero.Moves, l.zero.Dark
			r.Hash, r.Plan = l.zero.Hash, l.zero.Plan
		}
		l.log.append(r)
	}
	l.beat = mark
	state := l.now
	l.state.Store(&state)
	l.tell(true)
}

// gap tells that the program did not run for a while.
func (l *loop) gap(now clock.Mark) {
	if away := clock.Passed(l.last, now); away > gapAfter && clock.SameBoot(l.last, now) {
		l.decide(sequence.Gap{From: l.last.Elapsed, To: now.Elapsed})
	}
}

// jump records that the wall clock was set; no edge moves.
func (l *loop) jump(now clock.Mark) {
	if l.seen.Boot == "" || clock.Passed(l.seen, now) > heartbeat {
		l.seen = now
		return
	}
	if step, ok := clock.Jumped(l.seen, now); ok {
		l.seen = now
		l.decide(sequence.Tell{Kind: sequence.ClockJumped, Text: fmt.Sprintf("the wall clock was set by %s", step.Round(time.Millisecond))})
	}
}

// alive records a heartbeat where nothing else was recorded for a while: a session that
// is cut off is taken up from its last record.
func (l *loop) alive(now clock.Mark) {
	if l.beat.Boot != "" && clock.Passed(l.beat, now) < heartbeat {
		return
	}
	l.beat = now
	l.log.append(journal.Record{Event: sequence.Event{At: now.Elapsed, Kind: sequence.Alive}, Clock: now})
}

// tell gives the ear what is to be heard in the next seconds of real time.
func (l *loop) tell(changed bool) {
	now := l.clock.Mark()
	if l.ear == nil || !changed && l.told.Boot != "" && clock.Passed(l.told, now) < retell {
		return
	}
	l.told = now
	far := earshot
	for l.clock.Until(now.Elapsed+far) < earshot/2 { // a rehearsal's clock is fast
		far *= 2
	}
	l.ear.Schedule(l.now.Ahead(now.Elapsed-far, now.Elapsed+far))
}
