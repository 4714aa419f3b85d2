package engine

// The next change of bath: which, when, and whether it waits for the person.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// bathChange is the next change of bath.
type bathChange struct {
	at    sequence.Elapsed // Never: none left
	from  int              // step that is left; -1 for dry film
	sheet int              // 1..n; 0 for all that are in the step
	first int              // index of the sheet, or of the first of them
}

// nextBathChange is the earliest change of bath that has not happened.
func nextBathChange(f filmState, laid schedule.Stays) bathChange {
	p, next := f.plan, bathChange{at: sequence.Never}
	consider := func(at sequence.Elapsed, from, k int, all bool) {
		e := bathChange{at: at, from: from, sheet: k + 1, first: k}
		if all {
			e.sheet = 0
		}
		if at < next.at {
			next = e
		}
	}
	for i := range p.Steps {
		done, row := f.film.Row(p, i), laid.Row(p, i)
		for k := range row {
			if i == 0 && done[k].In == sequence.Never {
				consider(row[k].In, -1, k, !p.Steps[0].Stack)
			}
			if done[k].In != sequence.Never && done[k].Out == sequence.Never {
				consider(row[k].Out, i, k, p.LeavesTogether(i) && f.allIn(i))
			}
		}
	}
	return next
}

// due is when e is due by the film's time in its bath, however long ago that was.
func (f filmState) due(e bathChange) sequence.Elapsed {
	laid := f.laidOut(0, true)
	if e.from < 0 {
		return laid.Row(f.plan, 0)[e.first].In
	}
	return laid.Row(f.plan, e.from)[e.first].Out
}

// blocked reports whether moving on at e waits for the person: while held, and
// at the end of a step that says so.
func (f filmState) blocked(e bathChange) bool {
	if e.at == sequence.Never {
		return false
	}
	if f.held {
		return true
	}
	if e.from < 0 || !f.plan.Steps[e.from].WaitForPerson || f.lift.Of(e.from) {
		return false
	}
	return !someLeft(f, e.from)
}

// someLeft reports whether a sheet that still moves on has left step i.
func someLeft(f filmState, i int) bool {
	for k, y := range f.film.Row(f.plan, i) {
		if y.Out != sequence.Never && !f.film.IsSetAside(f.plan, k) {
			return true
		}
	}
	return false
}

// lifts reports whether the person's word at e only begins the drain: the first to leave
// a bath that waits for it. A second word moves it at once.
func (f filmState) lifts(e bathChange) bool {
	if e.from < 0 || f.plan.Steps[e.from].Drain == 0 {
		return false
	}
	f.held = false
	return f.blocked(e)
}

// inRow reports whether e is in the middle of a row of moves: two presses pause it.
func inRow(f filmState, e bathChange) bool {
	return e.from >= 0 && e.sheet != 0 && !f.plan.Steps[e.from].PullsSheets() &&
		!f.plan.PassesPulled(e.from) && someLeft(f, e.from)
}

// lastSheetOut reports whether e takes the last film out of the last bath.
func lastSheetOut(f filmState, e bathChange) bool { return e.sheet == 0 || notYetOut(f) == 1 }

// actOf is the cue whose onset is the act of leaving step from.
func actOf(p *sequence.Plan, from int) sequence.CueKind {
	switch {
	case from < 0:
		return sequence.CueLoad
	case p.Steps[from].PullsSheets():
		return sequence.CuePull
	case from == len(p.Steps)-1:
		return sequence.CueDone
	}
	return sequence.CueTransfer
}
