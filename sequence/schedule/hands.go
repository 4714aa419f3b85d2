package schedule

// What the hands do, without gaps from the first sheet in to the last sheet out: one
// account of the film as it is laid out, for the plan, the screens, plain mode and the
// voice. Several things may be asked of the hands at once; what cannot wait comes first.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

const (
	Momentary  = ShortestShuffle // how long the hands are taken up by an act that is over at once
	HandsAhead = time.Minute     // how far ahead what they do is worked out
)

// act is one thing asked of the hands.
type act struct {
	from, to sequence.Elapsed
	do       sequence.Doing
	step     int
	sheet    int
	urgency  int
}

// What comes first where several acts are asked for at once.
const (
	restful  = iota // nothing to do
	aside           // a bath of a film test beside its developer
	rhythm          // the agitation of the bath
	turning         // the drum's
	leaving         // a lift or a pour
	carrying        // sheet by sheet
	pulling
)

// asked adds what the hands are to do in the step.
func (w *stepCues) asked(from, to sequence.Elapsed, do sequence.Doing, sheet, urgency int) {
	if urgency == rhythm && (w.plan.TakesPulled(w.s) || w.plan.JoinsPulled(w.s) || w.plan.LeavesStaggered(w.s)) {
		urgency = aside
	}
	if from < to {
		w.acts = append(w.acts, act{from, to, do, w.s, sheet, urgency})
	}
}

// PlannedHands is what the hands do through the plan.
func PlannedHands(p *sequence.Plan) []sequence.Hand {
	c := CueBuilder{Plan: p, Film: PlannedStays(p), LastHeard: sequence.Never}
	return c.Hands(func(sequence.Elapsed, sequence.Elapsed) bool { return true })
}

// Hands lists what the hands do in the steps whose first and last moments are wanted.
func (c *CueBuilder) Hands(wanted func(start, end sequence.Elapsed) bool) []sequence.Hand {
	var acts []act
	last := -sequence.Never
	for s := range c.Plan.Steps {
		start, _, _, end := Bounds(c.Film.Remaining(c.Plan, s))
		if start == sequence.Never || !wanted(start, end) {
			continue
		}
		end = max(end, c.OverrunUntil)
		last = max(last, end)
		acts = append(acts, act{from: start, to: end, do: sequence.Standing, step: s})
		w, ok := c.passing(s)
		if !ok {
			continue
		}
		w.place(c.Began)
		acts = append(acts, w.acts...)
	}
	for i := range acts {
		acts[i].to = min(acts[i].to, last)
	}
	return foremost(c.Plan, acts)
}

// foremost is at each moment the most urgent of what is asked.
func foremost(p *sequence.Plan, acts []act) []sequence.Hand {
	slices.SortStableFunc(acts, func(a, b act) int { return cmp.Compare(a.from, b.from) })
	var edges []sequence.Elapsed
	for _, a := range acts {
		edges = append(edges, a.from, a.to)
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	var list []sequence.Hand
	var open []act
	next := 0
	for i := 0; i+1 < len(edges); i++ {
		at, until := edges[i], edges[i+1]
		open = slices.DeleteFunc(open, func(a act) bool { return a.to <= at })
		for ; next < len(acts) && acts[next].from <= at; next++ {
			open = append(open, acts[next])
		}
		if len(open) == 0 {
			continue
		}
		a := slices.MaxFunc(open, func(a, b act) int { return urgency(p, a, b) })
		h := sequence.Hand{At: at, Until: until, Do: a.do, Step: p.StepName(a.step), Sheet: a.sheet}
		if n := len(list) - 1; n >= 0 && list[n].Until == at && list[n].Do == h.Do && list[n].Step == h.Step && list[n].Sheet == h.Sheet {
			list[n].Until = until
			continue
		}
		list = append(list, h)
	}
	return list
}

// urgency orders two acts; of equals the developer's, then the earlier bath's, then
// what was asked for last.
func urgency(p *sequence.Plan, a, b act) int {
	developing := func(a act) int {
		if p.Steps[a.step].Kind == sequence.Develop {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(a.urgency, b.urgency), cmp.Compare(developing(a), developing(b)), cmp.Compare(b.step, a.step), cmp.Compare(a.from, b.from))
}
