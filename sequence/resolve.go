package sequence

// From a recipe and today's conditions to a plan.

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"

	"example.org/wetside/chem"
)

// DefaultCoefficient is the temperature coefficient assumed where a recipe gives
// a temperature and no coefficient (common practice, no source: film developers
// in use lie between 1.9 and 2.6).
const DefaultCoefficient = 2.2

// Resolve fixes a recipe's times and cues under today's conditions. The error
// names everything that cannot be done.
func Resolve(r Recipe, c Conditions) (Plan, error) {
	c, err := started(r, c)
	if err != nil {
		return Plan{}, err
	}
	p, f, err := timed(r, c)
	if err != nil {
		return Plan{}, err
	}
	p.Passages = f.passages(&p)
	p.Wet = tally(&p, f)
	warn, pass := alarms(&p, f)
	sc := score{plan: &p, film: f, quiet: Never, wetWarn: warn, wetPass: pass}
	placed := sc.compose()
	p.Cues = make([]Cue, len(placed))
	for i := range placed {
		p.Cues[i] = placed[i].Cue
	}
	p.Cautions = cautions(&p, f, Habits{})
	p.Shorten = shorten(&p)
	return p, nil
}

// timed fixes the steps' times and lays the film out; no cues yet.
func timed(r Recipe, c Conditions) (Plan, film, error) {
	p := Plan{Recipe: r, Conditions: c, Vessel: r.Load.Vessel, Sheets: r.Load.Sheets, Limits: limits(r, c)}
	if c.Vessel != "" {
		p.Vessel = c.Vessel
	}
	if c.Sheets != 0 {
		p.Sheets = c.Sheets
	}
	if err := checkConditions(r, c); err != nil {
		return p, nil, err
	}
	vessel := p.Vessel
	for _, st := range r.Steps {
		if st.Vessel != "" {
			vessel = st.Vessel
		}
		p.Steps = append(p.Steps, planStep(&p, st, vessel))
	}
	clear(&p)
	lengthen(&p)
	if err := checkSteps(&p); err != nil {
		return p, nil, err
	}
	l, err := newLayout(&p)
	if err != nil {
		return p, nil, err
	}
	f, err := l.lay()
	if err != nil {
		return p, nil, err
	}
	setTimes(&p, f)
	return p, f, checkStacks(&p, f)
}

// limits is the film's wet limit as the conditions change it: the value given
// replaces a value for all vessels, or else that of the load's vessel.
func limits(r Recipe, c Conditions) WetLimit {
	w := r.Film.WetLimit
	if w.none() && c.OwnLimit != nil {
		w = *c.OwnLimit
	}
	if c.WetLimit == 0 {
		return w
	}
	if len(w.ByVessel) == 0 {
		return WetLimit{All: c.WetLimit}
	}
	by := make(map[Vessel]Elapsed, len(w.ByVessel)+1)
	for v, d := range w.ByVessel {
		by[v] = d
	}
	v := r.Load.Vessel
	if c.Vessel != "" {
		v = c.Vessel
	}
	by[v] = c.WetLimit
	return WetLimit{ByVessel: by}
}

// planStep is a step before anything has been laid out.
func planStep(p *Plan, st Step, v Vessel) PlanStep {
	ps := PlanStep{Step: st, Vessel: v, Stack: v == Tray && p.Sheets >= 2}
	ps.Base = base(st, p.Conditions.Development)
	factor := 1.0
	if st.Kind == Develop && p.Conditions.Factor != 0 {
		factor = p.Conditions.Factor
	}
	ps.Dose = scale(ps.Base, factor)
	for _, d := range st.TakeOut {
		ps.Doses = append(ps.Doses, scale(d, factor))
	}
	if t := st.Temperature; t != nil {
		at := t.At
		ps.Temperature = &at
		if st.Kind == Develop {
			works := *t
			if works.Coefficient == 0 && len(works.Table) == 0 {
				works.Coefficient = DefaultCoefficient
			}
			ps.Works = &works
		}
	}
	return ps
}

func scale(d Elapsed, by float64) Elapsed {
	if by == 1 {
		return d
	}
	return Elapsed(float64(d)*by + 0.5)
}

// base is the recipe's time of a step under a development: the one named, else
// N, else the first. Of a film test it is the longest.
func base(st Step, development string) Elapsed {
	switch {
	case len(st.TakeOut) > 0:
		return slices.Max(st.TakeOut)
	case len(st.Times) == 0:
		return st.Time
	}
	for _, name := range []string{development, "N"} {
		for _, t := range st.Times {
			if t.Name == name {
				return t.Time
			}
		}
	}
	return st.Times[0].Time
}

// clear puts a measured clearing time in the place of the fixing times: twice
// it in one bath, once in each of two or more in a row; half as much again for a
// tabular emulsion.
func clear(p *Plan) {
	d := p.Conditions.Clearing
	if d == 0 {
		return
	}
	for i := range p.Steps {
		if p.Steps[i].Kind == Fix {
			p.Steps[i].Dose = p.fixedFor(i, d)
			p.Steps[i].LightsOnAfter = min(p.Steps[i].LightsOnAfter, p.Steps[i].Dose)
		}
	}
}

// fixedFor is how long step i fixes in a bath that clears in d; 0 where d is no
// clearing time.
func (p *Plan) fixedFor(i int, d Elapsed) Elapsed {
	alone := (i == 0 || p.Steps[i-1].Kind != Fix) && (i+1 == len(p.Steps) || p.Steps[i+1].Kind != Fix)
	baths := 2
	if alone {
		baths = 1
	}
	t, _, err := chem.FixTime(d, baths, p.Conditions.Tabular)
	if err != nil {
		return 0
	}
	return t
}

// setTimes writes what was laid out into the steps.
func setTimes(p *Plan, f film) {
	for i := range p.Steps {
		st := &p.Steps[i]
		row := f.row(p, i)
		var last Elapsed
		st.Start, last, st.Moves, st.End = span(row)
		st.Given = st.Dose
		if st.Kind == Develop {
			st.Given = st.Moves - last
			if st.tests() || st.Stack && !p.waits(i) {
				st.Given = given1(row, st.tests())
			}
		}
		if st.Works != nil {
			t := p.course(st).At(st.Start)
			st.Temperature = &t
		}
	}
}

// given1 is the shortest stay in a row, or the longest.
func given1(row []stay, longest bool) Elapsed {
	d := row[0].out - row[0].in
	for _, y := range row {
		if longest {
			d = max(d, y.out-y.in)
		} else {
			d = min(d, y.out-y.in)
		}
	}
	return d
}

// checkConditions refuses what no plan can be made of.
func checkConditions(r Recipe, c Conditions) error {
	var errs []error
	bad := func(ok bool, format string, args ...any) {
		if !ok {
			errs = append(errs, fmt.Errorf(format, args...))
		}
	}
	believable := func(t *chem.Celsius, name string) {
		if t != nil {
			bad(*t >= lowest && *t <= highest, "%s: %s; expected %s to %s", name, t.InBoth(), lowest.InBoth(), highest.InBoth())
		}
	}
	believable(c.Temp, "temperature")
	believable(c.Towards, "where the bath settles")
	bad((c.Towards == nil) == (c.Drift == 0), "drift: where the bath settles and its time constant belong together; expected both")
	bad(c.Drift >= 0 && c.ReadBefore >= 0, "drift: negative time; expected a time of 1 s or more")
	n := cmp.Or(c.Sheets, r.Load.Sheets)
	bad(n >= 1 && n <= 200, "sheets: %d; expected 1 to 200", n)
	bad(len(r.Load.Names) == 0 || n <= len(r.Load.Names), "sheets: %d; the recipe names %d", n, len(r.Load.Names))
	bad(len(r.Steps) > 0, "the recipe has no step")
	bad(c.Vessel == "" || slices.Contains(Vessels, c.Vessel), "vessel: %q is none; expected one of %v", string(c.Vessel), Vessels)
	bad(c.Factor == 0 || c.Factor >= 0.1 && c.Factor <= 10, "factor: %g; expected 0.1 to 10", c.Factor)
	bad(c.WetLimit == 0 || c.WetLimit >= time.Second && c.WetLimit <= 24*time.Hour, "wet limit: expected 1 s to 24 h")
	bad(c.Clearing == 0 || c.Clearing >= time.Second && c.Clearing <= time.Hour, "clearing time: expected 1 s to 1 h")
	bad(c.Clearing == 0 || slices.ContainsFunc(r.Steps, func(s Step) bool { return s.Kind == Fix }),
		"clearing time: the recipe has no fix step")
	bad(c.Factor == 0 || slices.ContainsFunc(r.Steps, func(s Step) bool { return s.Kind == Develop }),
		"factor: the recipe does not develop")
	errs = append(errs, checkDevelopment(r, c.Development))
	return errors.Join(errs...)
}

func checkDevelopment(r Recipe, name string) error {
	if name == "" {
		return nil
	}
	var known []string
	for _, st := range r.Steps {
		for _, t := range st.Times {
			if t.Name == name {
				return nil
			}
			known = append(known, t.Name)
		}
	}
	if len(known) == 0 {
		return fmt.Errorf("development: %q; the recipe has one development only", name)
	}
	return fmt.Errorf("development: %q is none of the recipe's; expected one of %q", name, known)
}
