package schedule

// Shuffling a stack: how often, in whole rounds, each sheet in its turn.

import (
	"math"
	"time"

	"example.org/wetside/sequence"
)

// ShuffleCount counts the turns already given in a step, so that a forecast made in the middle
// of a row still ends with whole rounds.
type ShuffleCount struct {
	Count int
	Lead  int // sheets beneath the one that came in first, which leaves first
	first sequence.Elapsed
	last  sequence.Elapsed
}

// shuffle places the turns of a stack. In a film test each stretch between two
// sheets pulled has its own whole rounds, the round as long as with all.
func (w *stepCues) shuffle() {
	turnEvery := w.plan.Recipe.Load.ShuffleEvery
	n := w.sheets()
	if w.st.StaggeredEntry() {
		w.growingStack(turnEvery)
		return
	}
	if !w.st.PullsSheets() && !w.plan.LeavesStaggered(w.s) {
		if w.plan.JoinsPulled(w.s) {
			w.growingStack(turnEvery)
		}
		w.wholePasses(w.last, w.moves-w.drain(w.moves), n, turnEvery, false)
		w.asked(w.last, w.overrun, sequence.Shuffling, 0, rhythm)
		for at := w.moves; at < w.overrun; at += turnEvery {
			w.add(at, sequence.CueShuffle, 0, 0)
		}
		return
	}
	from, round := w.last, sequence.Elapsed(n)*turnEvery
	for i, k := range exitOrder(w.row) {
		if w.row[k].In == sequence.Never {
			continue
		}
		until := w.row[k].Out - w.drain(w.row[k].Out)
		if until-from >= sequence.Elapsed(n)*ShortestShuffle {
			w.wholePasses(from, until, n, round/sequence.Elapsed(n), i > 0)
		}
		from = max(from, w.row[k].Out)
		n--
	}
}

// growingStack places the turns of a stack that grows: each stretch between two sheets that
// come in has its own whole rounds, the round as long as with all. Where they join from a film
// test the last stretch is any stack's, and not placed here.
func (w *stepCues) growingStack(turnEvery sequence.Elapsed) {
	round, n := sequence.Elapsed(w.sheets())*turnEvery, 0
	order := entryOrder(w.row)
	for i, k := range order {
		if w.row[k].In == sequence.Never {
			break
		}
		n++
		from, until := w.row[k].In, w.moves-w.drain(w.moves)
		if i+1 < len(order) && w.row[order[i+1]].In != sequence.Never {
			until = w.row[order[i+1]].In
		} else if w.plan.JoinsPulled(w.s) {
			break
		}
		if until-from >= sequence.Elapsed(n)*ShortestShuffle {
			w.wholePasses(from, until, n, round/sequence.Elapsed(n), i > 0)
		}
	}
}

// sheets is how many are in the row.
func (w *stepCues) sheets() int {
	n := 0
	for _, y := range w.row {
		if y.In != sequence.Never {
			n++
		}
	}
	return n
}

// ShortestShuffle is the shortest time in which a hand can turn one sheet of a stack
// (our own rule).
const ShortestShuffle = 3 * time.Second

// wholePasses places whole rounds of turns of n sheets in [from, until), the first at
// from, or after a sheet was pulled there so that the hand has time. Where
// turning has begun it goes on from the last turn given, or after a gap from now,
// as nearly as may be in the rhythm that it had, and still ends with whole rounds.
func (w *stepCues) wholePasses(from, until sequence.Elapsed, n int, every sequence.Elapsed, takenOut bool) {
	w.asked(from, until, sequence.Shuffling, 0, rhythm)
	count, interval := WholePasses(until-from, every, n)
	next := from
	if takenOut {
		interval = (until - from) / sequence.Elapsed(count+1)
		next = from + interval
	}
	interval = max(interval, 1)
	if w.onTrack(next, until, count) {
		return
	}
	t := w.shuffles
	if t.Count > 0 && t.first >= from {
		next = t.last + interval
	}
	next = max(next, w.now)
	rest := t.Lead // until the sheet that leaves first lies at the bottom, also where a late one came in midway
	fit := float64(until-next) / float64(interval)
	left := rest + n*max(0, int(math.Round((fit-float64(rest))/float64(n))))
	for j := 0; j < left && next < until; j++ {
		w.add(next+fraction(until-next, float64(j), left), sequence.CueShuffle, 0, 0)
	}
}

// fraction is j of n equal parts of d.
func fraction(d sequence.Elapsed, j float64, n int) sequence.Elapsed {
	return sequence.Elapsed(math.Round(float64(d) * j / float64(n)))
}

// WholePasses is how many turns of a stack of n fit into a window, in whole rounds, and how far
// apart they come: fewer rounds, though at least one, where a hand could not keep up.
func WholePasses(window, every sequence.Elapsed, n int) (count int, interval sequence.Elapsed) {
	rounds := nearestRounds(window, every, n)
	for rounds > 1 && window < sequence.Elapsed(rounds*n)*TurnFloor(every) {
		rounds--
	}
	count = rounds * n
	return count, window / sequence.Elapsed(count)
}

// turnAtLeast is the least time between two turns that are planned (common practice, no
// source), unless the recipe itself asks for less.
const turnAtLeast = 8 * time.Second

// TurnFloor is the least time between two turns where one comes every so often.
func TurnFloor(every sequence.Elapsed) sequence.Elapsed { return min(turnAtLeast, every) }

// nearestRounds is how many whole rounds of turns of n sheets a window has room for: at
// least one; ties up.
func nearestRounds(window, every sequence.Elapsed, n int) int {
	round := every * sequence.Elapsed(n)
	return max(1, int((2*window+round)/(2*round)))
}
