package newrecipe

// What comes of the fields: the recipe, what is wrong with it, its plan.

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

type result struct {
	recipe sequence.Recipe
	plan   *sequence.Plan    // nil where there is none
	faults map[string]string // by the field's id
	wrong  []string          // what those fields are called
	others []string          // what is wrong and of no field
}

func stepAt(i int) string { return fmt.Sprintf("step %d ", i+1) }

// check finds what is wrong between the fields, and plans what is right.
func (res *result) check(list []field, own *sequence.WetLimit, h sequence.Units) {
	r, err := recipes.Read("the recipe", recipes.Write(res.recipe))
	if faults := (recipes.Faults)(nil); errors.As(err, &faults) {
		for _, f := range faults {
			res.place(f, list)
		}
		return
	}
	res.recipe = r
	plan, err := planning.Resolve(r, sequence.Conditions{OwnLimit: own})
	if err != nil {
		res.others = strings.Split(say.Error(err, h), "\n")
		return
	}
	res.plan = &plan
}

// place puts a fault beside its field.
func (res *result) place(f recipes.Fault, list []field) {
	what := f.What
	if f.Expected != "" {
		what += "; expected " + f.Expected
	}
	i := slices.IndexFunc(list, func(one field) bool {
		return one.key != "" && (f.Field == one.key || strings.HasPrefix(f.Field, one.key+".") || strings.HasPrefix(f.Field, one.key+" "))
	})
	if i < 0 {
		res.others = append(res.others, f.Field+": "+what)
		return
	}
	res.faults[list[i].id] = what
}

// keepDark takes light from every bath in which the film would be fogged: before its first
// fixer has ended, in an open vessel, unless it is blind to some light.
func keepDark(r *sequence.Recipe) {
	vessel := r.Load.Vessel
	for i := range r.Steps {
		st := &r.Steps[i]
		if st.Vessel != "" {
			vessel = st.Vessel
		}
		if r.Film.Sensitivity == sequence.Pan && !vessel.Closed() {
			st.RoomLight = sequence.Dark
		}
		if st.Kind == sequence.Fix {
			return
		}
	}
}

// keepPace shortens what sheets of a stack drip, to less than what is between two of them:
// in the vessel that they come from there was more time.
func keepPace(r *sequence.Recipe) {
	const between = 2 * time.Second
	vessel := r.Load.Vessel
	for i := range r.Steps {
		st := &r.Steps[i]
		if st.Vessel != "" {
			vessel = st.Vessel
		}
		if vessel == sequence.Tray && r.Load.Sheets > 1 && st.Drain >= r.Load.TransferEvery {
			st.Drain = max(0, r.Load.TransferEvery-between)
		}
	}
}

// usualTitle is the film and how it is handled.
func usualTitle(r *sequence.Recipe) string {
	in := " in "
	switch r.Load.Vessel {
	case sequence.Cradle, sequence.DaylightTank, sequence.Drum, sequence.Tube:
		in = " in a "
	}
	return r.Film.Name + ", " + say.Sheets(r.Load.Sheets) + in + say.Vessel(r.Load.Vessel)
}

// answer is the plan: how long it develops, how long the film is wet, its strip and steps; or
// what stands in its way.
func (res result) answer(u sequence.Units, first, w, h int) []string {
	if h <= 0 {
		return nil
	}
	p := res.plan
	if p == nil {
		rows := res.noPlan(w)
		return rows[:min(len(rows), h)]
	}
	s := widget.Flowing(w, h, func(w int) []string { return planRows(p, u, w, h) })
	return strings.Split(s.Moved(first).View(), "\n")
}

func planRows(p *sequence.Plan, u sequence.Units, w, h int) []string {
	const airy = 14
	strip, gap := 2, []string(nil)
	if h >= airy {
		strip, gap = widget.StripRows, []string{""}
	}
	rows := append(widget.PlanAnswer(p, u, w), gap...)
	rows = append(rows, strings.Split(widget.PlanStrip(p, w, strip).View(), "\n")...)
	rows = append(append(rows, gap...), strings.Split(widget.PlanSteps(p, w).View(), "\n")...)
	if cautions := widget.PlanCautions(p, u, min(w, prose)); len(cautions) > 0 {
		rows = append(append(rows, ""), cautions...)
	}
	return rows
}

// noPlan is why there is none.
func (res result) noPlan(w int) []string {
	rows := []string{style.Heading("No plan yet")}
	for _, s := range res.others {
		rows = append(rows, widget.Painted(safetext.Clean(s), min(w, prose), style.Value)...)
	}
	if n := len(res.faults); n == 1 {
		rows = append(rows, widget.Painted("One field is wrong: "+strings.Join(res.wrong, ", ")+".", w, style.Value)...)
	} else if n > 1 {
		rows = append(rows, widget.Painted(fmt.Sprintf("%d fields are wrong: %s.", n, strings.Join(res.wrong, ", ")), w, style.Value)...)
	}
	return rows
}
