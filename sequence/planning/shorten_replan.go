package planning

// Changes that would shorten a plan, planned again one by one and together.

import (
	"cmp"
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// replanned is a change planned again.
type replanned struct {
	change
	plan     sequence.Plan // its wet time, and no cues
	tooShort bool          // developing is cut to under five minutes
}

// replan plans a change again; false where that makes no plan.
func replan(c change) (replanned, bool) {
	p, f, err := planTimes(c.Applied())
	if err != nil {
		return replanned{}, false
	}
	p.Wet = schedule.WorstWet(&p, f)
	t := replanned{change: c, plan: p}
	for i := range p.Steps {
		t.tooShort = t.tooShort || p.Steps[i].Kind == sequence.Develop && c.Code == "warmer" && p.Steps[i].Given < shortDevelop
	}
	return t, true
}

// keepsMargin reports whether a wet time is known to leave a margin before the limit.
func keepsMargin(p *sequence.Plan, margin sequence.Elapsed) bool {
	return p.Wet.Margin != nil && *p.Wet.Margin >= margin
}

// proposal is what a trial saves of p's wet time, and leaves.
func (t replanned) proposal(p *sequence.Plan) sequence.Shortening {
	s := t.Shortening
	s.Saves, s.Margin = p.Wet.Total-t.plan.Wet.Total, t.plan.Wet.Margin
	return s
}

// with adds a change to what has been changed already; false where it can no longer
// be made, or no longer helps.
func (t replanned) with(s sequence.Shortening) (replanned, bool) {
	c, ok := FindChange(&t.plan, s.Code, s.Step)
	if !ok {
		return t, false
	}
	next, ok := replan(c)
	if !ok || !schedule.LessWet(next.plan.Wet, t.plan.Wet) {
		return t, false
	}
	next.combineWith(t)
	return next, true
}

// combineWith makes t, the latest change, a combination with what was changed before.
func (t *replanned) combineWith(before replanned) {
	parts, c := before.Parts, t.Shortening
	if len(parts) == 0 {
		parts = []sequence.ShorteningPart{before.Part()}
	}
	t.Shortening = sequence.Shortening{Code: "together", WarmTo: cmp.Or(c.WarmTo, before.WarmTo), Parts: append(slices.Clone(parts), c.Part())}
}

// FindChange is the change of that code and step, false where there is none.
func FindChange(p *sequence.Plan, code, step string) (change, bool) {
	for _, c := range changes(p) {
		if c.Code == code && c.Step == step {
			return c, true
		}
	}
	return change{}, false
}

// applyInOrder carries out single changes one after the other; false where one cannot be.
func applyInOrder(p *sequence.Plan, parts []sequence.ShorteningPart) (replanned, bool) {
	t := replanned{plan: *p}
	for i, part := range parts {
		c, ok := FindChange(&t.plan, part.Code, part.Step)
		if !ok {
			return t, false
		}
		next, ok := replan(c)
		if !ok {
			return t, false
		}
		if i > 0 {
			next.combineWith(t)
		}
		t = next
	}
	return t, true
}

// ApplyShortening is the recipe and the conditions with a proposal of p.Shorten carried
// out; false where it is none of them.
func ApplyShortening(p *sequence.Plan, s sequence.Shortening) (sequence.Recipe, sequence.Conditions, bool) {
	parts := s.Parts
	if len(parts) == 0 {
		parts = []sequence.ShorteningPart{{Code: s.Code, Step: s.Step}}
	}
	t, ok := applyInOrder(p, parts)
	if !ok {
		return p.Recipe, p.Conditions, false
	}
	return t.plan.Recipe, t.plan.Conditions, true
}
