package sequence

// What would shorten the wet time, kindest first. Each proposal is planned
// again, so that what it is said to save is what it saves.

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// trial is a change planned again.
type trial struct {
	change
	plan  Plan // its wet time, and no cues
	hasty bool // developing is cut to under five minutes
}

// try plans a change again; false where that makes no plan.
func try(c change) (trial, bool) {
	p, f, err := timed(c.made())
	if err != nil {
		return trial{}, false
	}
	p.Wet = tally(&p, f)
	t := trial{change: c, plan: p}
	for i := range p.Steps {
		t.hasty = t.hasty || p.Steps[i].Kind == Develop && c.Code == "warmer" && p.Steps[i].Given < shortDevelop
	}
	return t, true
}

func better(a, b Wet) bool {
	return a.Total < b.Total || a.Used != nil && b.Used != nil && *a.Used < *b.Used-1e-9
}

// keeps reports whether a wet time is known to leave a margin before the limit.
func keeps(p *Plan, margin Elapsed) bool { return p.Wet.Margin != nil && *p.Wet.Margin >= margin }

// shorten lists the single changes that save wet time, or that lower its share of
// the limit; then, where no single one leaves the film's warning as a margin, the
// smallest combinations that do. Developing under five minutes is proposed where
// nothing else keeps the limit.
func shorten(p *Plan) []Shortening {
	list := []Shortening{}
	var helpful, hasty []trial
	margin := p.Recipe.Film.WetWarning
	enough := p.Wet.Margin == nil || keeps(p, margin)
	for _, c := range changes(p) {
		t, ok := try(c)
		switch {
		case !ok || !better(t.plan.Wet, p.Wet):
			continue
		case t.hasty:
			hasty = append(hasty, t)
			continue
		}
		enough = enough || keeps(&t.plan, margin)
		helpful = append(helpful, t)
		list = append(list, t.proposal(p))
	}
	if enough {
		return list
	}
	kept := func(t trial) bool { return keeps(&t.plan, 0) }
	keptAnyway := keeps(p, 0) || slices.ContainsFunc(helpful, kept)
	found := combine(p, helpful, margin)
	switch {
	case len(found) > 0 && keptAnyway && !keeps(&found[0].plan, margin):
		found = nil // a single change, or none, does as much
	case len(found) == 0 && !keptAnyway && len(hasty) > 0:
		for _, t := range hasty {
			t.Caution = "under five minutes of developing: uneven; " + t.Caution
			list = append(list, t.proposal(p))
		}
		found = combine(p, append(helpful[:min(len(helpful), mostHelps-1)], hasty...), margin)
	}
	for _, t := range found {
		list = append(list, t.proposal(p))
	}
	return list
}

// proposal is what a trial saves of p's wet time, and leaves.
func (t trial) proposal(p *Plan) Shortening {
	s := t.Shortening
	s.Saves, s.Margin = p.Wet.Total-t.plan.Wet.Total, t.plan.Wet.Margin
	return s
}

const (
	mostHelps   = 8 // changes, kindest first, that combinations are made of
	mostShown   = 3 // combinations
	mostChanges = 3 // in a combination of which all are tried; of more only the most promising
	promising   = 2
)

// combine lists the smallest combinations that leave a margin, or where none does
// that keep the limit; those without the less kind changes first.
func combine(p *Plan, helpful []trial, margin Elapsed) []trial {
	helpful = helpful[:min(len(helpful), mostHelps)]
	front, just := make([]made, len(helpful)), []trial(nil)
	for i, t := range helpful {
		front[i] = made{t, i}
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
func widen(front []made, helpful []trial) []made {
	var next []made
	for _, m := range front {
		for i := m.last + 1; i < len(helpful); i++ {
			if t, ok := m.and(helpful[i].Shortening); ok {
				next = append(next, made{t, i})
			}
		}
	}
	slices.SortStableFunc(next, func(a, b made) int { return cmp.Compare(a.last, b.last) })
	return next
}

// first are the first combinations that leave a margin, pared where they are larger
// than what has been tried in full.
func first(p *Plan, list []made, margin Elapsed) []trial {
	var found []trial
	for _, m := range list {
		if keeps(&m.plan, margin) && len(found) < mostShown {
			t := m.trial
			if len(t.Parts) > mostChanges {
				t = t.pared(p, margin)
			}
			if !slices.ContainsFunc(found, func(f trial) bool { return slices.Equal(f.Parts, t.Parts) }) {
				found = append(found, t)
			}
		}
	}
	return found
}

// made is a combination in the making.
type made struct {
	trial
	last int // the least kind of its changes
}

// best are the combinations that go furthest, in the order in which they stand.
func best(list []made) []made {
	if len(list) <= promising {
		return list
	}
	byUse := slices.Clone(list)
	slices.SortStableFunc(byUse, func(a, b made) int { return cmp.Compare(a.use(), b.use()) })
	worst := byUse[promising-1].use()
	return slices.DeleteFunc(list, func(m made) bool { return m.use() > worst })
}

// use is the share of the limits; where no limit is known for the vessel, too much.
func (m made) use() float64 {
	if m.plan.Wet.Used == nil {
		return math.MaxFloat64
	}
	return *m.plan.Wet.Used
}

// and adds a change to what has been changed already; false where it can no longer
// be made, or no longer helps.
func (t trial) and(s Shortening) (trial, bool) {
	c, ok := t.plan.propose(s.Code, s.Step)
	if !ok {
		return t, false
	}
	next, ok := try(c)
	if !ok || !better(next.plan.Wet, t.plan.Wet) {
		return t, false
	}
	next.join(t, ShorteningPart{s.Code, s.Step})
	return next, true
}

// join makes t, the latest change, a combination with what was changed before.
func (t *trial) join(before trial, part ShorteningPart) {
	parts, c := before.Parts, t.Shortening
	if len(parts) == 0 {
		parts = []ShorteningPart{{before.Code, before.Step}}
	}
	t.Shortening = Shortening{Code: "together", To: cmp.Or(c.To, before.To), Text: joined(before.Text, c.Text), Price: joined(before.Price, c.Price),
		Caution: joined(before.Caution, c.Caution), Parts: append(slices.Clone(parts), part)}
}

// joined is two texts as one; what is said twice is said once.
func joined(a, b string) string {
	switch {
	case a == "" || strings.Contains(b, a):
		return b
	case b == "" || strings.Contains(a, b):
		return a
	}
	return a + "; " + b
}

// propose is the change of that code and step, false where there is none.
func (p *Plan) propose(code, step string) (change, bool) {
	for _, c := range changes(p) {
		if c.Code == code && c.Step == step {
			return c, true
		}
	}
	return change{}, false
}

// inTurn carries out single changes one after the other; false where one cannot be.
func (p *Plan) inTurn(parts []ShorteningPart) (trial, bool) {
	t := trial{plan: *p}
	for i, part := range parts {
		c, ok := t.plan.propose(part.Code, part.Step)
		if !ok {
			return t, false
		}
		next, ok := try(c)
		if !ok {
			return t, false
		}
		if i > 0 {
			next.join(t, part)
		}
		t = next
	}
	return t, true
}

// pared is a combination without what it can do without, the least kind first.
func (t trial) pared(p *Plan, margin Elapsed) trial {
	for i := len(t.Parts) - 1; i >= 0 && len(t.Parts) > 2; i-- {
		parts := slices.Delete(slices.Clone(t.Parts), i, i+1)
		if less, ok := p.inTurn(parts); ok && keeps(&less.plan, margin) {
			t = less
		}
	}
	return t
}

// Shortened is the recipe and the conditions with a proposal of p.Shorten carried
// out; false where it is none of them.
func (p *Plan) Shortened(s Shortening) (Recipe, Conditions, bool) {
	parts := s.Parts
	if len(parts) == 0 {
		parts = []ShorteningPart{{s.Code, s.Step}}
	}
	t, ok := p.inTurn(parts)
	if !ok {
		return p.Recipe, p.Conditions, false
	}
	return t.plan.Recipe, t.plan.Conditions, true
}
