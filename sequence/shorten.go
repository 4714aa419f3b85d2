package sequence

// What would shorten the wet time, kindest first. Each proposal is planned
// again, so that what it is said to save is what it saves.

import (
	"fmt"
	"slices"

	"example.org/wetside/chem"
)

// warmest is how far the developer may be warmed to save time: above it the
// gelatin softens more than the minutes are worth (our own rule).
const warmest chem.Celsius = 22

// change is one way of shortening: the recipe and conditions with it.
type change struct {
	code, step, text string
	parts            []string // of a combination: the codes it is made of
	recipe           Recipe
	conditions       Conditions
}

// shorten lists the single changes that save wet time, or that lower its share
// of the limit, and one combination where no single one suffices.
func shorten(p *Plan) []Shortening {
	list := []Shortening{}
	var helpful []change
	enough := p.Wet.Used == nil || *p.Wet.Used <= 1
	for _, c := range changes(p) {
		wet, ok := replan(c)
		if !ok || !better(wet, p.Wet) {
			continue
		}
		enough = enough || wet.Used != nil && *wet.Used <= 1
		helpful = append(helpful, c)
		list = append(list, Shortening{p.Wet.Total - wet.Total, c.code, c.step, c.text})
	}
	if enough || len(helpful) < 2 {
		return list
	}
	if all, wet, ok := combined(p); ok {
		list = append(list, Shortening{p.Wet.Total - wet.Total, all.code, "", all.text})
	}
	return list
}

// Shortened is the recipe and the conditions with a proposal of p.Shorten carried
// out; false where it is none of them.
func (p *Plan) Shortened(s Shortening) (Recipe, Conditions, bool) {
	if s.Code == "together" {
		all, _, ok := combined(p)
		return all.recipe, all.conditions, ok
	}
	for _, c := range changes(p) {
		if c.code == s.Code && c.step == s.Step {
			return c.recipe, c.conditions, true
		}
	}
	return p.Recipe, p.Conditions, false
}

// replan is the wet time with a change, false where it cannot be planned.
func replan(c change) (Wet, bool) {
	p, f, err := timed(c.recipe, c.conditions)
	if err != nil {
		return Wet{}, false
	}
	for i := range p.Steps {
		if p.Steps[i].Kind == Develop && c.code == "warmer" && p.Steps[i].Given < shortDevelop {
			return Wet{}, false
		}
	}
	return tally(&p, f), true
}

func better(a, b Wet) bool {
	return a.Total < b.Total || a.Used != nil && b.Used != nil && *a.Used < *b.Used-1e-9
}

// combined adds up changes, kindest first, until the limit is kept; false where
// all of them together do not.
func combined(p *Plan) (all change, wet Wet, ok bool) {
	all, wet = change{code: "together"}, p.Wet
	const most = 8
	for q := p; len(all.parts) < most; {
		c, next, w, found := nextHelp(q, wet)
		if !found {
			return all, wet, false
		}
		q, wet = &next, w
		all.recipe, all.conditions, all.text = c.recipe, c.conditions, join(all.text, c.text)
		all.parts = append(all.parts, c.code)
		if wet.Used != nil && *wet.Used <= 1 {
			return all, wet, true
		}
	}
	return all, wet, false
}

// nextHelp is the kindest change that improves on a wet time, and the plan with it.
func nextHelp(q *Plan, wet Wet) (change, Plan, Wet, bool) {
	for _, c := range changes(q) {
		w, ok := replan(c)
		if !ok || !better(w, wet) {
			continue
		}
		next, _, _ := timed(c.recipe, c.conditions)
		next.Wet = w
		return c, next, w, true
	}
	return change{}, Plan{}, Wet{}, false
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

// changes lists what could be changed about a plan, kindest first.
func changes(p *Plan) []change {
	var list []change
	for _, propose := range []func(*Plan) []change{intoHangers, washAid, atLeast, cradle, fewer, leaveOut, warmer} {
		list = append(list, propose(p)...)
	}
	return list
}

// with copies the plan's recipe far enough to change its steps.
func (p *Plan) with(code, step, text string, edit func(*Recipe, *Conditions)) change {
	c := change{code: code, step: step, text: text, recipe: p.Recipe, conditions: p.Conditions}
	c.recipe.Steps = slices.Clone(p.Recipe.Steps)
	edit(&c.recipe, &c.conditions)
	return c
}

// intoHangers takes a stack apart as soon as there is light.
func intoHangers(p *Plan) []change {
	for i := range p.Steps {
		st := &p.Steps[i]
		if i == 0 || !st.Stack || st.RoomLight != White {
			continue
		}
		return []change{p.with("vessel", st.Name, fmt.Sprintf("%s: into hangers once the light is on", st.Name),
			func(r *Recipe, _ *Conditions) { r.Steps[i].Vessel = Hangers })}
	}
	return nil
}

// aidWarm is water in which a wash is not slowed down (70 F and more): what is
// assumed where the wash says no temperature.
const aidWarm chem.Celsius = 24

// washAid puts a clearing aid before a long wash.
func washAid(p *Plan) []change {
	steps := p.Recipe.Steps
	if slices.ContainsFunc(steps, func(s Step) bool { return s.Kind == WashAid }) {
		return nil
	}
	for i, st := range steps {
		water := aidWarm
		if st.Temperature != nil {
			water = st.Temperature.At // in the cold the wash is longer with the aid too
		}
		with, _ := chem.WashTimes(true, water)
		wash := max(with.Wash, st.AtLeast)
		if st.Kind != Wash || st.Time <= with.Rinse+with.Aid+wash {
			continue
		}
		return []change{p.with("wash-aid", st.Name, fmt.Sprintf("rinse %s, wash-aid %s, then %s for %s (SS0509 p. 24)", chem.FormatDuration(with.Rinse), chem.FormatDuration(with.Aid), st.Name, chem.FormatDuration(wash)),
			func(r *Recipe, _ *Conditions) {
				rinse, aid, short := st, st, st
				rinse.Kind, rinse.Name, rinse.Time, rinse.AtLeast, rinse.Drain = Rinse, "rinse before wash-aid", with.Rinse, 0, 0
				aid.Kind, aid.Name, aid.Time, aid.AtLeast, aid.Drain, aid.Bath = WashAid, "wash-aid", with.Aid, 0, 0, ""
				short.Time, short.Vessel = wash, ""
				r.Steps = slices.Concat(steps[:i], []Step{rinse, aid, short}, steps[i+1:])
			})}
	}
	return nil
}

// atLeast cuts a step to the least that still does its work.
func atLeast(p *Plan) []change {
	var list []change
	for i, st := range p.Recipe.Steps {
		if st.AtLeast > 0 && st.AtLeast < st.Time {
			list = append(list, p.with("at-least", st.Name, fmt.Sprintf("%s for %s instead of %s, the least that does its work", st.Name, chem.FormatDuration(st.AtLeast), chem.FormatDuration(st.Time)),
				func(r *Recipe, _ *Conditions) { r.Steps[i].Time = st.AtLeast }))
		}
	}
	return list
}

// cradle moves a stack as one.
func cradle(p *Plan) []change {
	if p.Vessel != Tray || p.Sheets < 2 {
		return nil
	}
	return []change{p.with("cradle", "", "a cradle: all sheets move together and none is handled", func(_ *Recipe, c *Conditions) { c.Vessel = Cradle })}
}

// fewer halves a stack.
func fewer(p *Plan) []change {
	if p.Vessel != Tray || p.Sheets < 2 || slices.ContainsFunc(p.Steps, func(s PlanStep) bool { return s.takesOut() }) {
		return nil
	}
	n := (p.Sheets + 1) / 2
	return []change{p.with("fewer", "", fmt.Sprintf("%d sheets instead of %d: less to load, turn and move", n, p.Sheets), func(_ *Recipe, c *Conditions) { c.Sheets = n })}
}

// leaveOut drops a step that is optional; never the presoak of a stack, which
// keeps its sheets from sticking together.
func leaveOut(p *Plan) []change {
	var list []change
	for i, st := range p.Recipe.Steps {
		if !st.Optional || len(p.Recipe.Steps) == 1 || st.Kind == Presoak && p.Steps[i].Stack {
			continue
		}
		list = append(list, p.with("leave-out", st.Name, fmt.Sprintf("leave out %s", st.Name), func(r *Recipe, _ *Conditions) {
			if i+1 < len(r.Steps) && r.Steps[i+1].Vessel == "" {
				r.Steps[i+1].Vessel = st.Vessel
			}
			r.Steps = slices.Delete(r.Steps, i, i+1)
		}))
	}
	return list
}

// warmer warms the developer, last of all and never above 22 C.
func warmer(p *Plan) []change {
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Works == nil || st.Temperature == nil {
			continue
		}
		to := warmest
		if len(st.Works.Range) == 2 {
			to = min(to, st.Works.Range[1])
		}
		if *st.Temperature >= to-0.05 {
			return nil
		}
		return []change{p.with("warmer", st.Name, fmt.Sprintf("%s at %.4g C: shorter, but warm gelatin is softer", st.Name, float64(to)),
			func(_ *Recipe, c *Conditions) { c.Temp, c.ReadBefore = &to, 0 })}
	}
	return nil
}
