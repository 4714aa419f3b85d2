package schedule

// The cues inside one step: agitation by period and by fraction, whole rounds
// of turns, draining, the drum's reversals.

import (
	"time"

	"example.org/wetside/sequence"
)

// A cue as it is placed: step is the index of the bath during which it is
// heard, so that at one instant the bath left speaks before the bath entered.
type PlacedCue struct {
	sequence.Cue
	During int
}

// stepCues is one step as it is laid out, ready to be given its cues.
type stepCues struct {
	plan     *sequence.Plan
	s        int
	st       *sequence.PlanStep
	row      []Stay
	start    sequence.Elapsed // first in
	last     sequence.Elapsed // last in
	moves    sequence.Elapsed // first out
	end      sequence.Elapsed // last out
	overrun  sequence.Elapsed // the step is held past its time: cues go on until here; before every moment if not
	due      sequence.Elapsed // since when it is
	waiting  bool             // for the person: nothing is lifted
	shuffles ShuffleCount     // turns given so far, of the running step
	now      sequence.Elapsed // from when the cues are wanted
	out      []PlacedCue      // all cues so far, of earlier steps too
	acts     []act            // what it asks of the hands
}

// Room is made at once for the cues of up to so many cycles, and for a step's few
// that are no agitation.
const (
	mostReserved    = 10_000
	besideAgitation = 16
)

// And is one turn more.
func (t ShuffleCount) And(at sequence.Elapsed, n int) ShuffleCount {
	if t.Count == 0 {
		t.first = at
	}
	t.Count++
	t.last = at
	if n > 0 {
		t.Lead = (t.Lead - 1 + n) % n
	}
	return t
}

// afterPress is how long the drain goes on after the person was asked to press, behind the step's own time:
// only what leaves first, or all at once, waits for that.
func (w *stepCues) afterPress() sequence.Elapsed {
	if w.st.WaitForPerson {
		return w.drain(w.moves)
	}
	return 0
}

// drain is how long film is lifted before it leaves at out: what would leave first not before
// the person says so, where that is waited for.
func (w *stepCues) drain(out sequence.Elapsed) sequence.Elapsed {
	if w.waiting && out == w.moves {
		return 0
	}
	return w.st.Drain
}

// place places all of the step's cues, and what they ask of the hands.
func (w *stepCues) place(began sequence.Elapsed) {
	w.loading(began)
	w.agitation()
	w.reversals()
	w.exits()
}

func (w *stepCues) add(at sequence.Elapsed, kind sequence.CueKind, dur sequence.Elapsed, sheet int) {
	w.out = append(w.out, PlacedCue{sequence.Cue{At: at, Kind: kind, For: dur, Step: w.st.Name, Sheet: sheet}, w.s})
}

// onTrack goes on with count turns that begin at from where those given so far came just
// when they should have, and none is late: then the rest come as planned, to the nanosecond.
func (w *stepCues) onTrack(from, until sequence.Elapsed, count int) bool {
	at := func(j int) sequence.Elapsed { return from + fraction(until-from, float64(j), count) }
	given := w.shuffles.Count
	if given == 0 || given > count || w.shuffles.first != from || w.shuffles.last != at(given-1) || given < count && at(given) < w.now {
		return false
	}
	for j := given; j < count; j++ {
		w.add(at(j), sequence.CueShuffle, 0, 0)
	}
	return true
}

// exits places what surrounds leaving the step: ready, drain, and the move, the
// taking out or the last sheet out itself.
func (w *stepCues) exits() {
	final := w.s == len(w.plan.Steps)-1
	switch {
	case w.st.PullsSheets():
		for k, y := range w.row {
			if y.In == sequence.Never {
				continue
			}
			w.exit(y.In, y.Out, sequence.CuePull, k+1, true)
		}
	case w.plan.LeavesTogether(w.s):
		w.exit(w.last, w.moves, sequence.CueTransfer, 0, true)
	case w.plan.PassesPulled(w.s):
		for _, k := range exitOrder(w.row) {
			if w.row[k].In != sequence.Never {
				w.exit(w.row[k].In, w.row[k].Out, sequence.CueTransfer, k+1, true)
			}
		}
	default:
		first := true
		if moved := w.end; !w.plan.LeavesStaggered(w.s) {
			if w.overrun > 0 {
				moved = w.due
			}
			w.asked(w.moves, moved, sequence.Transfer, 0, carrying)
		}
		for _, k := range exitOrder(w.row) {
			if w.row[k].In == sequence.Never {
				continue
			}
			w.exit(w.last, w.row[k].Out, sequence.CueTransfer, k+1, first || w.plan.LeavesStaggered(w.s))
			first = false
		}
	}
	if final {
		w.add(w.end, sequence.CueDone, 0, 0)
	}
}

const readyBefore = 20 * time.Second

func (w *stepCues) exit(in, out sequence.Elapsed, kind sequence.CueKind, sheet int, announced bool) {
	at := out - readyBefore
	if out == w.moves {
		at -= w.afterPress()
	}
	if announced && at >= in {
		ready := 0
		if kind == sequence.CuePull || w.plan.LeavesSingly(w.s) {
			ready = sheet
		}
		w.add(at, sequence.CueReady, 0, ready)
	}
	w.lifted(in, out, kind, sheet)
	if w.drain(out) > 0 {
		w.add(out-w.drain(out), sequence.CueDrain, 0, sheet)
	}
	if kind == sequence.CuePull || w.s < len(w.plan.Steps)-1 {
		w.add(out, kind, 0, sheet)
	}
}

// lifted is what hands do about an exit: lift and let drip, or pour; pull one sheet of a
// film test; carry one to a bath that the others come into later.
func (w *stepCues) lifted(in, out sequence.Elapsed, kind sequence.CueKind, sheet int) {
	if w.overrun > 0 && out >= w.due {
		return // nothing is lifted while the step waits, and its drain is no cue either
	}
	from, do := max(in, out-w.drain(out)), sequence.Draining
	if w.st.Vessel.Closed() {
		do = sequence.Pouring
	}
	switch {
	case kind == sequence.CuePull:
		w.asked(from, out+Momentary, sequence.Pulling, sheet, pulling)
	case w.plan.LeavesSingly(w.s) && sheet > 0:
		w.asked(from, out, do, 0, leaving)
		w.asked(out, out+Momentary, sequence.Transfer, 0, carrying)
	default:
		w.asked(from, out, do, 0, leaving)
	}
}

// loading places the entry into the first bath, and its announcement where the
// session begins early enough.
func (w *stepCues) loading(lead sequence.Elapsed) {
	if w.s != 0 {
		return
	}
	if lead < 0 {
		w.add(max(lead, w.start-readyBefore), sequence.CueReady, 0, 0)
	}
	if !w.st.Stack {
		w.add(w.start, sequence.CueLoad, 0, 0)
		return
	}
	w.asked(w.start, w.last, sequence.Loading, 0, carrying)
	for k, y := range w.row {
		if y.In == sequence.Never {
			continue
		}
		w.add(y.In, sequence.CueLoad, 0, k+1)
	}
}
