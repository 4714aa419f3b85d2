package sequence

// How fast a hand can turn a stack: turns are never planned nearer to each other than
// that. A bath that need only be long enough is lengthened for it; a developer's time is
// exact, and so it has fewer rounds.

import (
	"time"

	"example.org/wetside/chem"
)

// turnAtLeast is the least time between two turns that are planned (common practice, no
// source), unless the recipe itself asks for less.
const turnAtLeast = 8 * time.Second

// turnFloor is the least time between two turns where one comes every so often.
func turnFloor(every Elapsed) Elapsed { return min(turnAtLeast, every) }

// lengthen gives each bath of a stack the time that its turns need.
func lengthen(p *Plan) {
	for i := range p.Steps {
		p.Steps[i].Dose = p.turnedIn(i, p.Steps[i].Dose)
	}
}

// turnedIn is the time of step i made long enough for its whole rounds of turns; a
// developer's, and that of a step without such rounds, as it is.
func (p *Plan) turnedIn(i int, d Elapsed) Elapsed {
	st, every := &p.Steps[i], p.Recipe.Load.TurnEvery
	rounds := st.Stack && st.Agitate.Mode == Shuffle && !st.tests() && !p.waits(i) && !p.parting(i)
	if !rounds || st.Kind == Develop || every <= 0 {
		return d
	}
	count := nearestRounds(d-st.Drain, every, p.Sheets) * p.Sheets
	return max(d, st.Drain+Elapsed(count)*turnFloor(every))
}

// nearestRounds is how many whole rounds of turns of n sheets a window has room for: at
// least one; ties up.
func nearestRounds(window, every Elapsed, n int) int {
	round := every * Elapsed(n)
	return max(1, int((2*window+round)/(2*round)))
}

// turning says what a stack's turns ask of a step's time, and of the hand.
func (w *wary) turning(i int) {
	p, st := w.p, &w.p.Steps[i]
	asked := st.Base
	if d := p.Conditions.Clearing; d > 0 && st.Kind == Fix {
		asked = p.fixedFor(i, d)
	}
	if need := p.turnedIn(i, asked); need > asked {
		w.add(Note, "lengthened", "%s: %s instead of %s, so that there are %s for each turn of the stack",
			st.Name, chem.FormatDuration(need), chem.FormatDuration(asked), short(turnFloor(p.Recipe.Load.TurnEvery)))
	}
	if !st.Stack || st.Agitate.Mode != Shuffle || st.tests() || p.waits(i) || p.parting(i) {
		return
	}
	_, last, moves, _ := span(w.film.row(p, i))
	every := p.Recipe.Load.TurnEvery
	_, interval := turns(moves-st.Drain-last, every, p.Sheets)
	if change := float64(interval)/float64(every) - 1; change > turnChange || change < -turnChange || interval < turnFloor(every) {
		w.add(Note, "rounds", "%s: a turn every %s instead of %s, so that whole rounds fit", st.Name, short(interval), short(every))
	}
}
