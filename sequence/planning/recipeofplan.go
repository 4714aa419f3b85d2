package planning

// A plan back into a recipe: what was chosen for a session stands in the recipe that is
// written for it.

import (
	"slices"

	"example.org/wetside/sequence"
)

// AsChosen is the plan's recipe with all that was chosen for it: number of sheets,
// vessel, wet limit, development, push or pull, and fixing by a clearing time; and with the
// agitation as it is carried out there. Planned at
// the same temperatures it gives the same plan; what a thermometer reads is not chosen
// and stays with the day, as does how far a bottle was used.
func AsChosen(p *sequence.Plan) sequence.Recipe {
	r, c := p.Recipe, &p.Conditions
	r.Load.Vessel, r.Load.Sheets = p.Vessel, p.Sheets
	r.Load.Names = slices.Clone(r.Load.Names[:min(p.Sheets, len(r.Load.Names))])
	if c.WetLimit != 0 {
		r.Film.WetLimit = p.Limits
	}
	r.Steps = slices.Clone(r.Steps)
	for i := range r.Steps {
		st, planned := &r.Steps[i], &p.Steps[i]
		st.Agitate = AgitationAsDone(st.Agitate, planned.Stack)
		switch {
		case len(planned.Doses) > 0:
			st.PullTimes = slices.Clone(planned.Doses)
			for k, d := range st.PullTimes {
				st.PullTimes[k] = planned.Fresh(d)
			}
		case st.Kind == sequence.Develop && c.Development != "", planned.Fresh(planned.Dose) != planned.Base:
			st.Time, st.Times = planned.Fresh(planned.Dose), nil
			st.LeastTime, st.LightsOnAfter = min(st.LeastTime, st.Time), planned.LightsOnAfter
		}
	}
	return r
}

// TimeOf is how long the k-th sheet, from 0, is developed today, in the first step that
// develops; 0 where none does.
func TimeOf(p *sequence.Plan, k int) sequence.Elapsed {
	i := slices.IndexFunc(p.Steps, func(st sequence.PlanStep) bool { return st.Kind == sequence.Develop })
	one, _ := p.PassageOf(i, k+1)
	return one.Out - one.In
}
