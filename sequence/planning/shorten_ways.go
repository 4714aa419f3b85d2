package planning

// What could be changed about a plan so that film is wet for less long, or is
// handled less; kindest first, each with what it costs. Which of them help is
// for shorten.go to find out.

import (
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// warmestDeveloper is how far the developer may be warmed to save time: above it the
// gelatin softens more than the minutes are worth (our own rule).
const warmestDeveloper chem.Celsius = 22

// change is one way of shortening a plan.
type change struct {
	sequence.Shortening // Saves is not known yet
	plan                *sequence.Plan
	edit                func(*sequence.Recipe, *sequence.Conditions)
}

// Applied is the recipe and the conditions with the change.
func (c change) Applied() (sequence.Recipe, sequence.Conditions) {
	r, today := c.plan.Recipe, c.plan.Conditions
	r.Steps = slices.Clone(r.Steps)
	c.edit(&r, &today)
	return r, today
}

// changes lists what could be changed about a plan, kindest first; a developer that is
// too cold to work is warmed before anything else.
func changes(p *sequence.Plan) []change {
	kindest := []func(*sequence.Plan) []change{intoHangers, insertWashingAid, cutToLeast, useCradle, fewerSheets, leaveOut, warmDeveloper}
	if tooCold(p) {
		kindest = append([]func(*sequence.Plan) []change{warmDeveloper}, kindest[:len(kindest)-1]...)
	}
	var list []change
	for _, propose := range kindest {
		list = append(list, propose(p)...)
	}
	return list
}

// tooCold reports whether a developer is so cold that it hardly works: warming it comes
// before all else.
func tooCold(p *sequence.Plan) bool {
	return slices.ContainsFunc(p.Steps, func(st sequence.PlanStep) bool {
		return st.TimeByTemperature != nil && st.Temperature != nil && *st.Temperature < hydroquinoneStops
	})
}

// intoHangers takes a stack apart as soon as there is light: into hangers or single trays.
func intoHangers(p *sequence.Plan) []change {
	fixed := false
	if slices.ContainsFunc(p.Steps, func(st sequence.PlanStep) bool { return st.IsFilmTest() && st.Stack }) {
		return []change{{sequence.Shortening{Code: "vessel", ShorteningValues: sequence.ShorteningValues{Vessel: sequence.Hangers}}, p,
			func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.Hangers }}}
	}
	for i := range p.Steps {
		st := &p.Steps[i]
		if !fixed || !st.Stack || st.RoomLight != sequence.White {
			fixed = fixed || st.Kind == sequence.Fix
			continue
		}
		apart := p.SeparateVessel()
		return []change{change{sequence.Shortening{Code: "vessel", Step: st.Name, ShorteningValues: sequence.ShorteningValues{Vessel: apart}}, p,
			func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[i].Vessel = apart }}}
	}
	return nil
}

// warmWash is water in which a wash is not slowed down (70 F and more): what is
// assumed where the wash says no temperature.
const warmWash chem.Celsius = 24

// insertWashingAid puts a clearing aid before a long wash.
func insertWashingAid(p *sequence.Plan) []change {
	steps := p.Recipe.Steps
	if slices.ContainsFunc(steps, func(s sequence.Step) bool { return s.Kind == sequence.WashingAid }) {
		return nil
	}
	for i, st := range steps {
		if st.Kind != sequence.Wash {
			continue
		}
		water := warmWash
		if st.Temperature != nil {
			water = st.Temperature.At // in the cold the wash is longer with the aid too
		}
		with, _ := chem.WashTimes(true, water)
		wash := max(with.Wash, st.LeastTime, washOf(p, i, with.Wash, true).fewest())
		if st.Time <= with.Rinse+with.Aid+wash {
			continue
		}
		s := sequence.Shortening{Code: "wash-aid", Step: st.Name,
			ShorteningValues: sequence.ShorteningValues{Rinse: with.Rinse, Aid: with.Aid, Time: wash, Was: st.Time, Residual: washOf(p, i, wash, true).High}}
		return []change{change{s, p, func(r *sequence.Recipe, _ *sequence.Conditions) {
			rinse, aid, short := st, st, st
			rinse.Kind, rinse.Name, rinse.Time, rinse.LeastTime, rinse.Drain = sequence.Rinse, "rinse before wash-aid", with.Rinse, 0, 0
			aid.Kind, aid.Name, aid.Time, aid.LeastTime, aid.Drain, aid.Bath = sequence.WashingAid, "wash-aid", with.Aid, 0, 0, ""
			short.Time, short.Vessel = wash, ""
			r.Steps = slices.Concat(steps[:i], []sequence.Step{rinse, aid, short}, steps[i+1:])
		}}}
	}
	return nil
}

// cutToLeast cuts a step to the least that still does its work.
func cutToLeast(p *sequence.Plan) []change {
	var list []change
	for i, st := range p.Recipe.Steps {
		least := schedule.LeastTime(p, i)
		if least <= 0 || least >= st.Time {
			continue
		}
		s := sequence.Shortening{Code: "at-least", Step: st.Name, ShorteningValues: sequence.ShorteningValues{Kind: st.Kind, Time: least, Was: st.Time}}
		if st.Kind == sequence.Wash {
			s.Residual = washOf(p, i, least, false).High
		}
		list = append(list, change{s, p, func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[i].Time = least }})
	}
	return list
}

// useCradle moves a stack as one.
func useCradle(p *sequence.Plan) []change {
	if p.Vessel != sequence.Tray || p.Sheets < 2 {
		return nil
	}
	return []change{change{sequence.Shortening{Code: "cradle", ShorteningValues: sequence.ShorteningValues{Vessel: sequence.Cradle}}, p,
		func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.Cradle }}}
}

// fewerSheets halves a stack.
func fewerSheets(p *sequence.Plan) []change {
	if p.Vessel != sequence.Tray || p.Sheets < 2 || p.HasFilmTest() {
		return nil
	}
	n := (p.Sheets + 1) / 2
	return []change{change{sequence.Shortening{Code: "fewer", ShorteningValues: sequence.ShorteningValues{Sheets: n, Were: p.Sheets}}, p,
		func(_ *sequence.Recipe, c *sequence.Conditions) { c.Sheets = n }}}
}

// leaveOut drops a step that is optional; never the presoak of a stack, which
// keeps its sheets from sticking together.
func leaveOut(p *sequence.Plan) []change {
	var list []change
	for i, st := range p.Recipe.Steps {
		if !st.Optional || len(p.Recipe.Steps) == 1 || st.Kind == sequence.Presoak && p.Steps[i].Stack {
			continue
		}
		list = append(list, change{sequence.Shortening{Code: "leave-out", Step: st.Name, ShorteningValues: sequence.ShorteningValues{Kind: st.Kind}}, p, func(r *sequence.Recipe, _ *sequence.Conditions) {
			if i+1 < len(r.Steps) && r.Steps[i+1].Vessel == "" {
				r.Steps[i+1].Vessel = st.Vessel
			}
			r.Steps = slices.Delete(r.Steps, i, i+1)
		}})
	}
	return list
}

// warmDeveloper warms the developer, last of all and never above 22 C.
func warmDeveloper(p *sequence.Plan) []change {
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.TimeByTemperature == nil || st.Temperature == nil {
			continue
		}
		to := warmestDeveloper
		if len(st.TimeByTemperature.Range) == 2 {
			to = min(to, st.TimeByTemperature.Range[1])
		}
		if *st.Temperature >= to-0.05 {
			return nil
		}
		s := sequence.Shortening{Code: "warmer", Step: st.Name, WarmTo: &to, ShorteningValues: sequence.ShorteningValues{To: to}}
		return []change{change{s, p, func(_ *sequence.Recipe, c *sequence.Conditions) {
			c.BathTemperature, c.ReadBefore, c.ToRead = &to, 0, false
		}}}
	}
	return nil
}
