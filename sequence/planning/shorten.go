package planning

// What would shorten the wet time, kindest first. Each proposal is planned
// again, so that what it is said to save is what it saves.

import (
	"math"
	"slices"
	"sort"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// shorten lists the single changes that save wet time, or that lower its share of
// the limit; then, where no single one leaves the film's warning as a margin, the
// smallest combinations that do. Developing under five minutes is proposed where
// nothing else keeps the limit.
func shorten(p *sequence.Plan) []sequence.Shortening {
	list := []sequence.Shortening{}
	var helpful, hasty []replanned
	margin := p.Recipe.Film.WetWarning
	enough := p.Wet.Margin == nil || keepsMargin(p, margin)
	for _, c := range changes(p) {
		t, ok := replan(c)
		switch {
		case !ok || !schedule.LessWet(t.plan.Wet, p.Wet):
			continue
		case t.tooShort:
			hasty = append(hasty, t)
			continue
		}
		enough = enough || keepsMargin(&t.plan, margin)
		helpful = append(helpful, t)
		list = append(list, t.proposal(p))
	}
	if enough {
		return list
	}
	kept := func(t replanned) bool { return keepsMargin(&t.plan, 0) }
	keptAnyway := keepsMargin(p, 0) || slices.ContainsFunc(helpful, kept)
	found := combine(p, helpful, margin)
	switch {
	case len(found) > 0 && keptAnyway && !keepsMargin(&found[0].plan, margin):
		found = nil // a single change, or none, does as much
	case len(found) == 0 && !keptAnyway && len(hasty) > 0:
		for _, t := range hasty {
			t.Hasty = true
			list = append(list, t.proposal(p))
		}
		found = combine(p, append(helpful[:min(len(helpful), mostSingle-1)], hasty...), margin)
		if alone := slices.ContainsFunc(hasty, func(t replanned) bool { return keepsMargin(&t.plan, marginOf(found, margin)) }); alone {
			found = nil // a hasty one does as much by itself
		}
	}
	for _, t := range found {
		list = append(list, t.proposal(p))
	}
	return list
}

// marginOf is what the combinations found leave: the margin wanted, or only the limit.
func marginOf(found []replanned, margin sequence.Elapsed) sequence.Elapsed {
	if len(found) > 0 && !keepsMargin(&found[0].plan, margin) {
		return 0
	}
	return margin
}

const (
	mostSingle   = 8 // changes, kindest first, that combinations are made of
	mostProposed = 3 // combinations
	mostChanges  = 3 // in a combination of which all are tried; of more only the most promising
	promising    = 2
)

// combine lists the smallest combinations that leave a margin, or where none does
// that keep the limit; those without the less kind changes first.
func combine(p *sequence.Plan, helpful []replanned, margin sequence.Elapsed) []replanned {
	helpful = helpful[:min(len(helpful), mostSingle)]
	front, just := make([]combination, len(helpful)), []replanned(nil)
	for i, t := range helpful {
		front[i] = combination{t, i}
	}
	for size := 2; size <= len(helpful) && len(front) > 0; size++ {
		front = widen(front, helpful)
		if found := first(p, front, margin); len(found) > 0 {
			return found
		}
		if len(just) == 0 {
			just = first(p, front, 0)
		}
		if size >= mostChanges {
			front = best(front)
		}
	}
	return just
}

// widen adds one change to each combination, and puts the kindest first.
func widen(front []combination, helpful []replanned) []combination {
	var next []combination
	for _, m := range front {
		for i := m.last + 1; i < len(helpful); i++ {
			if t, ok := m.with(helpful[i].Shortening); ok {
				next = append(next, combination{t, i})
			}
		}
	}
	sort.SliceStable(next, func(i, j int) bool { return next[i].last < next[j].last })
	return next
}

// first are the first combinations that leave a margin, pared where they are larger
// than what has been tried in full.
func first(p *sequence.Plan, list []combination, margin sequence.Elapsed) []replanned {
	var found []replanned
	for _, m := range list {
		if keepsMargin(&m.plan, margin) && len(found) < mostProposed {
			t := m.replanned
			if len(t.Parts) > mostChanges {
				t = t.pared(p, margin)
			}
			if !slices.ContainsFunc(found, func(f replanned) bool { return slices.Equal(f.Parts, t.Parts) }) {
				found = append(found, t)
			}
		}
	}
	return found
}

// combination is a combination in the making.
type combination struct {
	replanned
	last int // the least kind of its changes
}

// best are the combinations that go furthest, in the order in which they stand.
func best(list []combination) []combination {
	if len(list) <= promising {
		return list
	}
	byUse := slices.Clone(list)
	sort.SliceStable(byUse, func(i, j int) bool { return byUse[i].use() < byUse[j].use() })
	worst := byUse[promising-1].use()
	return slices.DeleteFunc(list, func(m combination) bool { return m.use() > worst })
}

// use is the share of the limits; where no limit is known for the vessel, too much.
func (m combination) use() float64 {
	if m.plan.Wet.Used == nil {
		return math.MaxFloat64
	}
	return *m.plan.Wet.Used
}

// pared is a combination without what it can do without, the least kind first.
func (t replanned) pared(p *sequence.Plan, margin sequence.Elapsed) replanned {
	for i := len(t.Parts) - 1; i >= 0 && len(t.Parts) > 2; i-- {
		parts := slices.Delete(slices.Clone(t.Parts), i, i+1)
		if less, ok := applyInOrder(p, parts); ok && keepsMargin(&less.plan, margin) {
			t = less
		}
	}
	return t
}
