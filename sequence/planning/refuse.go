package planning

// What a plan is refused for, once sheets and vessel are known.

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// checkSteps refuses what the vessel or the number of sheets makes impossible.
func checkSteps(p *sequence.Plan) error {
	var errs []error
	bad := func(st *sequence.PlanStep, why error) {
		errs = append(errs, fmt.Errorf("step %q: %w", st.Name, why))
	}
	fixed := false
	for i := range p.Steps {
		st := &p.Steps[i]
		if n := len(st.Doses); n > 0 && n != p.Sheets {
			bad(st, fmt.Errorf("%d times to pull sheets, %d sheets; expected as many of the one as of the other", n, p.Sheets))
		}
		if st.StaggeredEntry() && i == 0 {
			bad(st, fmt.Errorf("sheets that leave together wait for their times in the bath before; expected a step before it"))
		}
		if st.IsFilmTest() && st.Vessel.Closed() {
			bad(st, fmt.Errorf("no sheet can be pulled from a %s; expected an open vessel", st.Vessel))
		}
		if st.PullsSheets() && i+1 == len(p.Steps) {
			bad(st, fmt.Errorf("sheets are pulled and no bath follows; expected a step after it"))
		}
		if st.PullsSheets() && st.StraightOn {
			if why := refuseStraightOn(p, i); why != nil {
				bad(st, why)
			}
		}
		if !fixed && st.RoomLight != sequence.Dark && !st.Vessel.Closed() && p.Recipe.Film.Sensitivity == sequence.Pan {
			bad(st, fmt.Errorf("%s light before the film is fixed fogs a pan film %s; expected dark", st.RoomLight, st.Vessel.In()))
		}
		if shortest := slices.Min(append(slices.Clone(st.Doses), st.Dose)); st.Drain >= shortest {
			bad(st, fmt.Errorf("drains %s of its %s; expected a shorter drain", chem.FormatDuration(st.Drain), chem.FormatDuration(shortest)))
		}
		fixed = fixed || st.Kind == sequence.Fix
	}
	return errors.Join(errs...)
}

// refuseStraightOn is why sheets pulled out of step i cannot go straight on to the fixer; nil where
// they can: an acid stop bath ends their development, and moves nobody who waits for a press.
func refuseStraightOn(p *sequence.Plan, i int) error {
	after := p.Steps[i+1:]
	switch {
	case len(after) < 2 || after[0].Kind != sequence.StopBath || after[1].Kind != sequence.Fix:
		return errors.New("sheets that go straight on need a stop bath and then a fixer; expected stop and fix as the next two steps")
	case !acid(p, after[0].Bath):
		return errors.New("sheets that go straight on to the fixer need an acid stop bath, and the recipe names no more than water; expected the parts of a stop bath")
	case after[0].WaitForPerson:
		return errors.New("sheets that go straight on leave the stop bath by themselves; expected advance = \"auto\" in " + after[0].Name)
	}
	return nil
}

// checkStacks refuses a stack that no hand could serve.
func checkStacks(p *sequence.Plan, f schedule.Stays) error {
	var errs []error
	move := p.Recipe.Load.TransferEvery
	for i := range p.Steps {
		st := &p.Steps[i]
		if !st.Stack || p.TakesPulled(i) {
			continue
		}
		if st.Drain >= move {
			errs = append(errs, fmt.Errorf("step %q: draining for %s does not fit between sheets moved every %s; expected less",
				st.Name, chem.FormatDuration(st.Drain), chem.FormatDuration(move)))
		}
		_, last, moves, _ := schedule.Bounds(f.Row(p, i))
		if window, least := moves-st.Drain-last, sequence.Elapsed(p.Sheets)*schedule.ShortestShuffle; st.Kind == sequence.Develop && window < least {
			errs = append(errs, fmt.Errorf("step %q: %s left to turn %d sheets between the last in and the first out; expected at least %s (fewer sheets, or another vessel)",
				st.Name, chem.FormatDuration(max(0, window)), p.Sheets, chem.FormatDuration(least)))
		}
	}
	return errors.Join(errs...)
}

// checkConditions refuses what no plan can be made of.
func checkConditions(r sequence.Recipe, c sequence.Conditions) error {
	var errs []error
	bad := func(ok bool, format string, args ...any) {
		if !ok {
			errs = append(errs, fmt.Errorf(format, args...))
		}
	}
	believable := func(t *chem.Celsius, name string) {
		if t != nil {
			bad(*t >= sequence.LowestBath && *t <= sequence.HighestBath, "%s: %s; expected %s to %s", name, t.InBoth(), sequence.LowestBath.InBoth(), sequence.HighestBath.InBoth())
		}
	}
	believable(c.BathTemperature, "temperature")
	believable(c.SettlesAt, "where the bath settles")
	bad((c.SettlesAt == nil) == (c.TimeConstant == 0), "drift: where the bath settles and its time constant belong together; expected both")
	bad(c.TimeConstant >= 0 && c.ReadBefore >= 0, "drift: negative time; expected a time of 1 s or more")
	n := cmp.Or(c.Sheets, r.Load.Sheets)
	bad(n >= 1 && n <= 200, "sheets: %d; expected 1 to 200", n)
	bad(len(r.Load.Names) == 0 || n <= len(r.Load.Names), "sheets: %d; the recipe names %d", n, len(r.Load.Names))
	bad(len(r.Steps) > 0, "the recipe has no step")
	bad(c.Vessel == "" || slices.Contains(sequence.Vessels, c.Vessel), "vessel: %q is none; expected %s", string(c.Vessel), sequence.OneOf(sequence.Vessels))
	bad(c.Factor == 0 || c.Factor >= 0.1 && c.Factor <= 10, "factor: %g; expected 0.1 to 10", c.Factor)
	bad(c.WetLimit == 0 || c.WetLimit >= time.Second && c.WetLimit <= 24*time.Hour, "wet limit: expected 1 s to 24 h")
	bad(c.Clearing == 0 || c.Clearing >= time.Second && c.Clearing <= time.Hour, "clearing time: expected 1 s to 1 h")
	bad(c.Clearing == 0 || slices.ContainsFunc(r.Steps, func(s sequence.Step) bool { return s.Kind == sequence.Fix }),
		"clearing time: the recipe has no fix step")
	bad(c.Factor == 0 || slices.ContainsFunc(r.Steps, func(s sequence.Step) bool { return s.Kind == sequence.Develop }),
		"factor: the recipe does not develop")
	errs = append(errs, checkDevelopment(r, c.Development))
	return errors.Join(errs...)
}

func checkDevelopment(r sequence.Recipe, name string) error {
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
	return fmt.Errorf("development: %q is none of the recipe's; expected %s", name, sequence.OneOf(known))
}
