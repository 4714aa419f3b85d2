package planning

// How fast a hand can turn a stack: turns are never planned nearer to each other than
// that. A bath that need only be long enough is lengthened for it; a developer's time is
// exact, and so it has fewer rounds.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// lengthen gives each bath of a stack the time that its turns need.
func lengthen(p *sequence.Plan) {
	for i := range p.Steps {
		p.Steps[i].Dose = schedule.TurnedIn(p, i, p.Steps[i].Dose)
	}
}

// turning says what a stack's turns ask of a step's time, and of the hand.
func (w *cautionBuilder) turning(i int) {
	p, st := w.p, &w.p.Steps[i]
	asked := st.Base
	if d := p.Conditions.Clearing; d > 0 && st.Kind == sequence.Fix {
		asked = schedule.FixedFor(p, i, d)
	}
	if need := schedule.TurnedIn(p, i, asked); need > asked {
		w.add(sequence.Note, "lengthened", sequence.Values{Step: st.Name, Time: need, Of: asked, Each: schedule.TurnFloor(p.Recipe.Load.ShuffleEvery)})
	}
	if !st.Stack || st.Agitate.Mode != sequence.Shuffle || st.IsFilmTest() || p.TakesPulled(i) || p.LeavesStaggered(i) {
		return
	}
	_, last, moves, _ := schedule.Bounds(w.film.Row(p, i))
	every := p.Recipe.Load.ShuffleEvery
	_, interval := schedule.WholePasses(moves-st.Drain-last, every, p.Sheets)
	if change := float64(interval)/float64(every) - 1; change > intervalChange || change < -intervalChange || interval < schedule.TurnFloor(every) {
		w.add(sequence.Note, "rounds", sequence.Values{Step: st.Name, Each: interval, Of: every})
	}
}
