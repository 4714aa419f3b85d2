package sequence

// What a plan is refused for, once sheets and vessel are known.

import (
	"errors"
	"fmt"
	"slices"

	"example.org/wetside/chem"
)

// checkSteps refuses what the vessel or the number of sheets makes impossible.
func checkSteps(p *Plan) error {
	var errs []error
	bad := func(st *PlanStep, format string, args ...any) {
		errs = append(errs, fmt.Errorf("step %q: %s", st.Name, fmt.Sprintf(format, args...)))
	}
	fixed := false
	for i := range p.Steps {
		st := &p.Steps[i]
		if n := len(st.Doses); n > 0 && n != p.Sheets {
			bad(st, "%d times to take out, %d sheets; expected as many of the one as of the other", n, p.Sheets)
		}
		if st.joins() && i == 0 {
			bad(st, "sheets that leave together wait for their times in the bath before; expected a step before it")
		}
		if st.tests() && st.Vessel.Closed() {
			bad(st, "no sheet can be taken out of a %s; expected an open vessel", st.Vessel)
		}
		if st.TakesOut() && i+1 == len(p.Steps) {
			bad(st, "sheets are taken out and no bath follows; expected a step after it")
		}
		if !fixed && st.RoomLight != Dark && !st.Vessel.Closed() && p.Recipe.Film.Sensitivity == Pan {
			bad(st, "%s light before the film is fixed fogs a pan film %s; expected dark", st.RoomLight, st.Vessel.In())
		}
		if shortest := slices.Min(append(slices.Clone(st.Doses), st.Dose)); st.Drain >= shortest {
			bad(st, "drains %s of its %s; expected a shorter drain", chem.FormatDuration(st.Drain), chem.FormatDuration(shortest))
		}
		fixed = fixed || st.Kind == Fix
	}
	return errors.Join(errs...)
}

// checkStacks refuses a stack that no hand could serve.
func checkStacks(p *Plan, f film) error {
	var errs []error
	move := p.Recipe.Load.MoveEvery
	for i := range p.Steps {
		st := &p.Steps[i]
		if !st.Stack || p.waits(i) {
			continue
		}
		if st.Drain >= move {
			errs = append(errs, fmt.Errorf("step %q: draining for %s does not fit between sheets moved every %s; expected less",
				st.Name, chem.FormatDuration(st.Drain), chem.FormatDuration(move)))
		}
		_, last, moves, _ := span(f.row(p, i))
		if window, least := moves-st.Drain-last, Elapsed(p.Sheets)*leastTurn; st.Kind == Develop && window < least {
			errs = append(errs, fmt.Errorf("step %q: %s left to turn %d sheets between the last in and the first out; expected at least %s (fewer sheets, or another vessel)",
				st.Name, chem.FormatDuration(max(0, window)), p.Sheets, chem.FormatDuration(least)))
		}
	}
	return errors.Join(errs...)
}
