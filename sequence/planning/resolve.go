// Package planning makes a plan of a recipe and today's conditions, with its cautions, its
// rounds, its error budget, and what would shorten the wet time.
//
// For commands and screens. Start with Resolve. It is pure, and never refuses a plan because it is
// risky: a caution says so.
package planning

import (
	"cmp"
	"maps"
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// DefaultCoefficient is the temperature coefficient assumed where a recipe gives
// a temperature and no coefficient (common practice, no source: film developers
// in use lie between 1.9 and 2.6; errorbudget.go says what is published of that range).
const DefaultCoefficient = 2.2

// Resolve fixes a recipe's times and cues under today's conditions. The error
// names everything that cannot be done.
func Resolve(r sequence.Recipe, c sequence.Conditions) (sequence.Plan, error) {
	c, err := withProposedTemperature(r, c)
	if err != nil {
		return sequence.Plan{}, err
	}
	p, f, err := planTimes(r, c)
	if err != nil {
		return sequence.Plan{}, err
	}
	p.Passages = f.Passages(&p)
	p.Wet = schedule.WorstWet(&p, f)
	warn, pass := schedule.WetAlarms(&p, f)
	sc := schedule.CueBuilder{Plan: &p, Film: f, LastHeard: sequence.Never, WetWarningAt: warn, WetLimitAt: pass}
	placed := sc.Build()
	p.Cues = make([]sequence.Cue, len(placed))
	for i := range placed {
		p.Cues[i] = placed[i].Cue
	}
	p.Cautions = cautions(&p, f)
	p.Shorten = shorten(&p)
	return p, nil
}

// planTimes fixes the steps' times and lays the film out; no cues yet.
func planTimes(r sequence.Recipe, c sequence.Conditions) (sequence.Plan, schedule.Stays, error) {
	p := sequence.Plan{Recipe: r, Conditions: c, Vessel: cmp.Or(c.Vessel, r.Load.Vessel),
		Sheets: cmp.Or(c.Sheets, r.Load.Sheets), Limits: limits(r, c)}
	if err := checkConditions(r, c); err != nil {
		return p, nil, err
	}
	vessel := p.Vessel
	for _, st := range r.Steps {
		vessel = cmp.Or(st.Vessel, vessel)
		p.Steps = append(p.Steps, planStep(&p, st, vessel))
	}
	applyClearingTime(&p)
	lengthen(&p)
	if err := checkSteps(&p); err != nil {
		return p, nil, err
	}
	l, err := schedule.NewLayout(&p)
	if err != nil {
		return p, nil, err
	}
	f, err := l.Complete()
	if err != nil {
		return p, nil, err
	}
	setTimes(&p, f)
	return p, f, checkStacks(&p, f)
}

// limits is the film's wet limit as the conditions change it: the value given
// replaces a value for all vessels, or else that of the load's vessel.
func limits(r sequence.Recipe, c sequence.Conditions) sequence.WetLimit {
	w := r.Film.WetLimit
	if w.Unstated() && c.OwnLimit != nil {
		w = *c.OwnLimit
	}
	if c.WetLimit == 0 {
		return w
	}
	if len(w.ByVessel) == 0 {
		return sequence.WetLimit{All: c.WetLimit}
	}
	by := maps.Clone(w.ByVessel)
	by[cmp.Or(c.Vessel, r.Load.Vessel)] = c.WetLimit
	return sequence.WetLimit{ByVessel: by}
}

// planStep is a step before anything has been laid out.
func planStep(p *sequence.Plan, st sequence.Step, v sequence.Vessel) sequence.PlanStep {
	ps := sequence.PlanStep{Step: st, Vessel: v, Stack: v == sequence.Tray && p.Sheets >= 2}
	ps.Base = st.TimeOf(p.Conditions.Development)
	if len(st.PullTimes) > 0 {
		ps.Base = slices.Max(st.PullTimes)
	}
	factor := 1.0
	if st.Kind == sequence.Develop {
		factor = cmp.Or(p.Conditions.Factor, 1)
	}
	if ps.Reused = reusedBath(p, &st); ps.Reused != nil {
		factor *= ps.Reused.Factor
	}
	ps.Dose = scale(ps.Base, factor)
	for _, d := range st.PullTimes {
		ps.Doses = append(ps.Doses, scale(d, factor))
	}
	if t := st.Temperature; t != nil {
		ps.Temperature = new(t.At)
		if st.Kind == sequence.Develop {
			works := *t
			if works.Coefficient == 0 && len(works.Table) == 0 {
				works.Coefficient = DefaultCoefficient
			}
			ps.TimeByTemperature = &works
		}
	}
	return ps
}

func scale(d sequence.Elapsed, by float64) sequence.Elapsed {
	if by == 1 {
		return d
	}
	return sequence.Elapsed(float64(d)*by + 0.5)
}

// applyClearingTime puts a measured clearing time in the place of the fixing times: twice
// it in one bath, once in each of two or more in a row; half as much again for a
// tabular emulsion.
func applyClearingTime(p *sequence.Plan) {
	d := p.Conditions.Clearing
	if d == 0 {
		return
	}
	for i := range p.Steps {
		if p.Steps[i].Kind == sequence.Fix {
			p.Steps[i].Dose = schedule.FixedFor(p, i, d)
			p.Steps[i].LightsOnAfter = min(p.Steps[i].LightsOnAfter, p.Steps[i].Dose)
		}
	}
}

// setTimes writes what was laid out into the steps.
func setTimes(p *sequence.Plan, f schedule.Stays) {
	for i := range p.Steps {
		st := &p.Steps[i]
		row := f.Row(p, i)
		var last sequence.Elapsed
		st.Start, last, st.FirstOut, st.End = schedule.Bounds(row)
		st.Given = st.Dose
		if st.Kind == sequence.Develop {
			st.Given = st.FirstOut - last - afterPress(st)
			if st.IsFilmTest() || st.Stack && !p.TakesPulled(i) {
				st.Given = stayInRow(row, afterPress(st), st.IsFilmTest())
			}
		}
		if st.TimeByTemperature != nil {
			st.Temperature = new(p.Course(st).At(st.Start))
		}
	}
}

// afterPress is how long film that left a step first dripped when its time was over: where the step
// waits for the person, their press begins the drain.
func afterPress(st *sequence.PlanStep) sequence.Elapsed {
	if st.WaitForPerson {
		return st.Drain
	}
	return 0
}

// stayInRow is the shortest stay in a row, or the longest; of what left first without its drain.
func stayInRow(row []schedule.Stay, drain sequence.Elapsed, longest bool) sequence.Elapsed {
	first := slices.MinFunc(row, func(a, b schedule.Stay) int { return cmp.Compare(a.Out, b.Out) }).Out
	stay := func(y schedule.Stay) sequence.Elapsed {
		if y.Out == first {
			return y.Out - y.In - drain
		}
		return y.Out - y.In
	}
	d := stay(row[0])
	for _, y := range row {
		if longest {
			d = max(d, stay(y))
		} else {
			d = min(d, stay(y))
		}
	}
	return d
}
