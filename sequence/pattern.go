package sequence

// The cues inside one step: agitation by period and by fraction, whole rounds
// of turns, draining, the drum's reversals.

import (
	"math"
	"slices"
	"time"
)

// A cue as it is placed: step is the index of the bath during which it is
// heard, so that at one instant the bath left speaks before the bath entered.
type placed struct {
	Cue
	step int
}

// passing is one step as it is laid out, ready to be given its cues.
type passing struct {
	plan    *Plan
	s       int
	st      *PlanStep
	row     []stay
	start   Elapsed  // first in
	last    Elapsed  // last in
	moves   Elapsed  // first out
	end     Elapsed  // last out
	overrun Elapsed  // the step is held past its time: cues go on until here; 0 if not
	due     Elapsed  // since when it is
	waiting bool     // for the person: nothing is lifted
	turned  turned   // turns given so far, of the running step
	now     Elapsed  // from when the cues are wanted
	out     []placed // all cues so far, of earlier steps too
	acts    []act    // what it asks of the hands
}

// Room is made at once for the cues of up to so many cycles, and for a step's few
// that are no agitation.
const (
	mostReserved = 10_000
	roomBeside   = 16
)

// turned counts the turns already given in a step, so that a forecast made in the middle
// of a row still ends with whole rounds.
type turned struct {
	count int
	first Elapsed
	last  Elapsed
}

// and is one turn more.
func (t turned) and(at Elapsed) turned {
	if t.count == 0 {
		t.first = at
	}
	t.count++
	t.last = at
	return t
}

// drain is how long film is lifted before it leaves: not before the person says so,
// where that is waited for.
func (w *passing) drain() Elapsed {
	if w.waiting {
		return 0
	}
	return w.st.Drain
}

func (w *passing) add(at Elapsed, kind CueKind, dur Elapsed, sheet int) {
	w.out = append(w.out, placed{Cue{At: at, Kind: kind, For: dur, Step: w.st.Name, Sheet: sheet}, w.s})
}

// agitation places the step's agitation, to the beginning of its drain.
func (w *passing) agitation() {
	stop := w.moves - w.drain()
	switch {
	case w.plan.waits(w.s):
		w.eachInTurn()
	case w.st.Agitate.Mode == AtRest:
	case w.st.Agitate.Mode == Shuffle && w.st.Stack:
		w.shuffle()
	case w.st.Agitate.Mode == Pattern:
		w.pattern()
	default:
		if w.st.TakesOut() || w.plan.parting(w.s) {
			stop = w.end - w.drain()
		}
		w.agitate(w.begins(), stop-w.begins())
		for at := w.moves; at < w.overrun; at += time.Minute {
			w.agitate(at, time.Minute)
		}
	}
}

func (w *passing) agitate(at, dur Elapsed) {
	if dur > 0 {
		w.asked(at, at+dur, Agitating, 0, rhythm)
		w.add(at, CueAgitate, dur, 0)
		w.add(at+dur, CueRest, 0, 0)
	}
}

// eachInTurn serves the bath after a film test's developer: each sheet is
// agitated for its time and then goes to wait in plain water, where all that wait are
// turned over once a minute.
func (w *passing) eachInTurn() {
	first := Never // of those that wait
	for k, y := range w.row {
		if y.in == Never {
			continue
		}
		if dur := w.st.Given - w.st.Drain; dur > 0 && w.st.Agitate.Mode != AtRest {
			w.asked(y.in, y.in+dur, Agitating, 0, rhythm)
			w.add(y.in, CueAgitate, dur, k+1)
			w.add(y.in+dur, CueRest, 0, k+1)
		}
		if into := y.in + w.st.Given; into < w.end {
			w.asked(into, into+aTouch, Transfer, 0, aside)
			w.add(into, CueMove, 0, k+1)
			first = min(first, into)
		}
	}
	if first == Never {
		return
	}
	for at := passed(first+waitTurn, waitTurn, w.now-aTouch); at < w.end; at += waitTurn {
		w.asked(at, min(at+aTouch, w.end), Shuffling, 0, aside)
		w.add(at, CueTurn, 0, 0)
	}
}

// passed is the first of the instants that come every so often from first on which is
// not before now: a bath held for a day costs no more than one held for a minute.
func passed(first, every, now Elapsed) Elapsed {
	if first >= now {
		return first
	}
	return first + (now-first+every-1)/every*every
}

// waitTurn is how often what waits in plain water is turned over.
const waitTurn = time.Minute

// pattern places {initial, for, every} or {initial, for, at}. A cycle that
// would start in the drain is dropped; one that would run into it is cut; one
// that would start before the last has ended goes on from there.
func (w *passing) pattern() {
	a := w.st.Agitate
	end := w.moves
	switch {
	case w.st.TakesOut() || w.plan.parting(w.s):
		end = w.end
	case w.overrun > 0:
		end = w.due // laid out it leaves now, which ends no cycle
	}
	base := w.begins()
	stop, busy := end-w.drain(), base
	cycle := func(at, dur Elapsed) {
		from, to := max(at, busy), at+dur
		if at < stop {
			to = min(to, stop)
		} else if at < end || at >= w.overrun {
			return
		}
		w.agitate(from, to-from)
		busy = max(busy, to)
	}
	cycle(base, a.Initial)
	for _, x := range slices.Sorted(slices.Values(a.At)) {
		cycle(base+part(end-base, x, 1), a.For)
	}
	if a.Every <= 0 {
		return
	}
	at := base + (a.Initial+a.Every-1)/a.Every*a.Every
	at = max(at, passed(at, a.Every, w.now-a.For)-a.Every) // the one before may still go on
	w.out = slices.Grow(w.out, int(min(max(0, max(stop, w.overrun)-at)/a.Every, mostReserved))*2+roomBeside)
	for ; at < max(stop, w.overrun); at += a.Every {
		cycle(at, a.For)
	}
}

// shuffle places the turns of a stack. In a film test each stretch between two
// sheets taken out has its own whole rounds, the round as long as with all.
func (w *passing) shuffle() {
	turnEvery := w.plan.Recipe.Load.TurnEvery
	n := w.sheets()
	if w.st.joins() {
		w.growing(turnEvery)
		return
	}
	if !w.st.TakesOut() && !w.plan.parting(w.s) {
		w.rounds(w.last, w.moves-w.drain(), n, turnEvery, false)
		w.asked(w.last, w.overrun, Shuffling, 0, rhythm)
		for at := w.moves; at < w.overrun; at += turnEvery {
			w.add(at, CueTurn, 0, 0)
		}
		return
	}
	from, round := w.last, Elapsed(n)*turnEvery
	for i, k := range exitOrder(w.row) {
		if w.row[k].in == Never {
			continue
		}
		until := w.row[k].out - w.drain()
		if until-from >= Elapsed(n)*leastTurn {
			w.rounds(from, until, n, round/Elapsed(n), i > 0)
		}
		from = max(from, w.row[k].out)
		n--
	}
}

// begins is when agitation begins: when the last sheet is in; in a film test that
// sheets join one after the other, when the first is.
func (w *passing) begins() Elapsed {
	if w.st.joins() {
		return w.start
	}
	return w.last
}

// growing places the turns of a stack that grows: each stretch between two sheets that
// come in has its own whole rounds, the round as long as with all.
func (w *passing) growing(turnEvery Elapsed) {
	round, n := Elapsed(w.sheets())*turnEvery, 0
	order := entryOrder(w.row)
	for i, k := range order {
		if w.row[k].in == Never {
			break
		}
		n++
		from, until := w.row[k].in, w.moves-w.drain()
		if i+1 < len(order) && w.row[order[i+1]].in != Never {
			until = w.row[order[i+1]].in
		}
		if until-from >= Elapsed(n)*leastTurn {
			w.rounds(from, until, n, round/Elapsed(n), i > 0)
		}
	}
}

// sheets is how many are in the row.
func (w *passing) sheets() int {
	n := 0
	for _, y := range w.row {
		if y.in != Never {
			n++
		}
	}
	return n
}

// leastTurn is the shortest time in which a hand can turn one sheet of a stack
// (our own rule).
const leastTurn = 3 * time.Second

// rounds places whole rounds of turns of n sheets in [from, until), the first at
// from, or after a sheet was taken out there so that the hand has time. Where
// turning has begun it goes on from the last turn given, or after a gap from now,
// as nearly as may be in the rhythm that it had, and still ends with whole rounds.
func (w *passing) rounds(from, until Elapsed, n int, every Elapsed, takenOut bool) {
	w.asked(from, until, Shuffling, 0, rhythm)
	count, interval := turns(until-from, every, n)
	given, next := 0, from
	if takenOut {
		interval = (until - from) / Elapsed(count+1)
		next = from + interval
	}
	interval = max(interval, 1)
	if w.onTrack(next, until, count) {
		return
	}
	if t := w.turned; t.count > 0 && t.first >= from {
		given, next = t.count, t.last+interval
	}
	next = max(next, w.now)
	rest := (n - given%n) % n // to complete the round
	fit := float64(until-next) / float64(interval)
	left := rest + n*max(0, int(math.Round((fit-float64(rest))/float64(n))))
	for j := 0; j < left && next < until; j++ {
		w.add(next+part(until-next, float64(j), left), CueTurn, 0, 0)
	}
}

// onTrack goes on with count turns that begin at from where those given so far came just
// when they should have, and none is late: then the rest come as planned, to the nanosecond.
func (w *passing) onTrack(from, until Elapsed, count int) bool {
	at := func(j int) Elapsed { return from + part(until-from, float64(j), count) }
	given := w.turned.count
	if given == 0 || given > count || w.turned.first != from || w.turned.last != at(given-1) || given < count && at(given) < w.now {
		return false
	}
	for j := given; j < count; j++ {
		w.add(at(j), CueTurn, 0, 0)
	}
	return true
}

// part is j of n equal parts of d.
func part(d Elapsed, j float64, n int) Elapsed {
	return Elapsed(math.Round(float64(d) * j / float64(n)))
}

// turns is how many turns of a stack of n fit into a window, in whole rounds, and how far
// apart they come: fewer rounds, though at least one, where a hand could not keep up.
func turns(window, every Elapsed, n int) (count int, interval Elapsed) {
	rounds := nearestRounds(window, every, n)
	for rounds > 1 && window < Elapsed(rounds*n)*turnFloor(every) {
		rounds--
	}
	count = rounds * n
	return count, window / Elapsed(count)
}

// reversals places the drum's changes of direction.
func (w *passing) reversals() {
	every := w.st.ReverseEvery
	if every == 0 {
		every = w.plan.Recipe.Load.ReverseEvery
	}
	if every <= 0 || w.st.Vessel != Drum {
		return
	}
	stop := max(w.moves-w.drain(), w.overrun)
	for at := passed(w.last+every, every, w.now-aTouch); at < stop; at += every {
		w.asked(at, min(at+aTouch, stop), Reversing, 0, turning)
		w.add(at, CueReverse, 0, 0)
	}
}

// exits places what surrounds leaving the step: ready, drain, and the move, the
// taking out or the last lift itself.
func (w *passing) exits() {
	final := w.s == len(w.plan.Steps)-1
	switch {
	case w.st.TakesOut():
		for k, y := range w.row {
			if y.in == Never {
				continue
			}
			w.exit(y.in, y.out, CueTakeOut, k+1, true)
		}
	case w.plan.together(w.s):
		w.exit(w.last, w.moves, CueMove, 0, true)
	default:
		first := true
		if moved := w.end; !w.plan.parting(w.s) {
			if w.overrun > 0 {
				moved = w.due
			}
			w.asked(w.moves, moved, Transfer, 0, carrying)
		}
		for _, k := range exitOrder(w.row) {
			if w.row[k].in == Never {
				continue
			}
			w.exit(w.last, w.row[k].out, CueMove, k+1, first || w.plan.parting(w.s))
			first = false
		}
	}
	if final {
		w.add(w.end, CueDone, 0, 0)
	}
}

const readyBefore = 20 * time.Second

func (w *passing) exit(in, out Elapsed, kind CueKind, sheet int, announced bool) {
	if at := out - readyBefore; announced && at >= in {
		ready := 0
		if kind == CueTakeOut || w.plan.parting(w.s) {
			ready = sheet
		}
		w.add(at, CueReady, 0, ready)
	}
	w.lifted(in, out, kind, sheet)
	if w.drain() > 0 {
		w.add(out-w.drain(), CueDrain, 0, sheet)
	}
	if kind == CueTakeOut || w.s < len(w.plan.Steps)-1 {
		w.add(out, kind, 0, sheet)
	}
}

// lifted is what hands do about an exit: lift and let drip, or pour; pull one sheet of a
// film test; carry one to a film test that the others join later.
func (w *passing) lifted(in, out Elapsed, kind CueKind, sheet int) {
	from, do := max(in, out-w.drain()), Draining
	if w.st.Vessel.Closed() {
		do = Pouring
	}
	switch {
	case kind == CueTakeOut:
		w.asked(from, out+aTouch, Pulling, sheet, pulling)
	case w.plan.parting(w.s) && sheet > 0:
		w.asked(from, out, do, 0, leaving)
		w.asked(out, out+aTouch, Transfer, 0, carrying)
	default:
		w.asked(from, out, do, 0, leaving)
	}
}

// loading places the entry into the first bath, and its announcement where the
// session begins early enough.
func (w *passing) loading(lead Elapsed) {
	if w.s != 0 {
		return
	}
	if lead < 0 {
		w.add(max(lead, w.start-readyBefore), CueReady, 0, 0)
	}
	if !w.st.Stack {
		w.add(w.start, CueLoad, 0, 0)
		return
	}
	w.asked(w.start, w.last, Loading, 0, carrying)
	for k, y := range w.row {
		if y.in == Never {
			continue
		}
		w.add(y.in, CueLoad, 0, k+1)
	}
}
