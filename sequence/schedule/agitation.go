package schedule

// Where in a step agitation lies, by period, by fraction, by the drum.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// agitation places the step's agitation, to the beginning of its drain.
func (w *stepCues) agitation() {
	stop := w.moves - w.drain(w.moves)
	switch {
	case w.plan.TakesPulled(w.s):
		w.pulledSheets()
	case w.st.Agitate.Mode == sequence.Still:
	case w.st.Agitate.Mode == sequence.Shuffle && w.st.Stack:
		w.shuffle()
	case w.st.Agitate.Mode == sequence.Pattern:
		w.pattern()
	default:
		if w.st.PullsSheets() || w.plan.LeavesStaggered(w.s) {
			stop = w.end - w.drain(w.end)
		}
		w.agitate(w.agitationStart(), stop-w.agitationStart())
		for at := w.moves; at < w.overrun; at += time.Minute {
			w.agitate(at, time.Minute)
		}
	}
}

func (w *stepCues) agitate(at, dur sequence.Elapsed) {
	if dur <= 0 {
		return
	}
	w.asked(at, at+dur, sequence.Agitating, 0, rhythm)
	if n := len(w.out) - 1; n >= 0 && w.out[n].Kind == sequence.CueStand && w.out[n].At == at && w.out[n].During == w.s {
		w.out = w.out[:n] // the hands go on: they do not stand between the two
	}
	w.add(at, sequence.CueAgitate, dur, 0)
	w.add(at+dur, sequence.CueStand, 0, 0)
}

// pulledSheets serves the bath after a film test's developer: each sheet is
// agitated for its time, and then goes on; or to wait in plain water, where those that wait are
// turned over once a minute from when there are two.
func (w *stepCues) pulledSheets() {
	var waitFrom []sequence.Elapsed
	together := w.end // when all that have had their time go on
	if w.overrun > 0 {
		together = w.due // the last has nobody to wait for
	}
	for k, y := range w.row {
		if y.In == sequence.Never {
			continue
		}
		if dur := w.st.Given - w.st.Drain; dur > 0 && w.st.Agitate.Mode != sequence.Still {
			w.asked(y.In, y.In+dur, sequence.Agitating, 0, rhythm)
			w.add(y.In, sequence.CueAgitate, dur, k+1)
			w.add(y.In+dur, sequence.CueStand, 0, k+1)
		}
		if into := y.In + w.st.Given; into < together && w.plan.GathersPulled(w.s) {
			w.asked(into, into+Momentary, sequence.Transfer, 0, aside)
			w.add(into, sequence.CueTransfer, 0, k+1)
			waitFrom = append(waitFrom, into)
		}
	}
	if len(waitFrom) < 2 {
		return // one sheet alone has none to be turned over with
	}
	slices.Sort(waitFrom)
	for at := nextInstant(waitFrom[1]+setAsideShuffleEvery, setAsideShuffleEvery, w.now-Momentary); at < w.end; at += setAsideShuffleEvery {
		w.asked(at, min(at+Momentary, w.end), sequence.Shuffling, 0, aside)
		w.add(at, sequence.CueShuffle, 0, 0)
	}
}

// nextInstant is the first of the instants that come every so often from first on which is
// not before now: a bath held for a day costs no more than one held for a minute.
func nextInstant(first, every, now sequence.Elapsed) sequence.Elapsed {
	if first >= now {
		return first
	}
	return first + (now-first+every-1)/every*every
}

// setAsideShuffleEvery is how often what waits in plain water is turned over.
const setAsideShuffleEvery = time.Minute

// pattern places {initial, for, every} or {initial, for, at}. A cycle that
// would start in the drain is dropped; one that would run into it is cut; one
// that would start before the last has ended goes on from there.
func (w *stepCues) pattern() {
	a := w.st.Agitate
	end := w.moves
	switch {
	case w.st.PullsSheets() || w.plan.LeavesStaggered(w.s):
		end = w.end
	case w.overrun > 0:
		end = w.due // laid out it leaves now, which ends no cycle
	}
	base := w.agitationStart()
	stop, busy := end-w.drain(end), base
	if end == w.moves {
		end -= w.afterPress()
	}
	cycle := func(at, dur sequence.Elapsed) {
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
		cycle(base+fraction(end-base, x, 1), a.For)
	}
	if a.Every <= 0 {
		return
	}
	at := base + (a.Initial+a.Every-1)/a.Every*a.Every
	at = max(at, nextInstant(at, a.Every, w.now-a.For)-a.Every) // the one before may still go on
	w.out = slices.Grow(w.out, int(min(max(0, max(stop, w.overrun)-at)/a.Every, mostReserved))*2+besideAgitation)
	for ; at < max(stop, w.overrun); at += a.Every {
		cycle(at, a.For)
	}
}

// agitationStart is when agitation begins: when the last sheet is in; where the sheets of a
// film test come in at times of their own, when the first is.
func (w *stepCues) agitationStart() sequence.Elapsed {
	if w.st.StaggeredEntry() || w.plan.JoinsPulled(w.s) {
		return w.start
	}
	return w.last
}

// reversals places the drum's changes of direction.
func (w *stepCues) reversals() {
	every := cmp.Or(w.st.ReverseEvery, w.plan.Recipe.Load.ReverseEvery)
	if every <= 0 || w.st.Vessel != sequence.Drum {
		return
	}
	stop := max(w.moves-w.drain(w.moves), w.overrun)
	for at := nextInstant(w.last+every, every, w.now-Momentary); at < stop; at += every {
		w.asked(at, min(at+Momentary, stop), sequence.Reversing, 0, turning)
		w.add(at, sequence.CueReverse, 0, 0)
	}
}
