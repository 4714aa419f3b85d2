package newrecipe

// What comes of the fields: the recipe, what is wrong with it, its plan.

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

type result struct {
	recipe sequence.Recipe
	plan   *sequence.Plan    // nil where there is none
	faults map[string]string // by the field's id
	others []string          // what is wrong and of no field
}

func stepAt(i int) string { return fmt.Sprintf("step %d ", i+1) }

// cloned is a recipe that can be changed without changing the other.
func cloned(r sequence.Recipe) sequence.Recipe {
	r.Baths, r.Steps = slices.Clone(r.Baths), slices.Clone(r.Steps)
	r.Film.WetLimit.ByVessel = maps.Clone(r.Film.WetLimit.ByVessel)
	for i := range r.Steps {
		st := &r.Steps[i]
		st.Times, st.PullTimes = slices.Clone(st.Times), slices.Clone(st.PullTimes)
		if st.Temperature != nil {
			t := *st.Temperature
			st.Temperature = &t
		}
	}
	return r
}

// applied makes the recipe of what was changed, and plans it.
func (m Model) applied() Model {
	r := cloned(m.base)
	res := result{faults: map[string]string{}}
	for i := 0; ; i++ { // what a field changes may make others appear behind it
		list := fieldsOf(&m.base, &r, m.env.Units())
		if i >= len(list) {
			break
		}
		if list[i].id == "title" && !m.inPlace {
			r.Title = usualTitle(&r)
		}
		if v, changed := m.set[list[i].id]; changed {
			if err := list[i].put(&r, v); err != nil {
				res.faults[list[i].id] = plain(err)
			}
		}
	}
	keepDark(&r)
	keepPace(&r)
	res.recipe = r
	if len(res.faults) == 0 {
		res.check(fieldsOf(&m.base, &r, m.env.Units()), m.env.Defaults.OwnLimit)
	}
	m.result, m.scrolled = res, 0
	return m
}

// check finds what is wrong between the fields, and plans what is right.
func (res *result) check(list []field, own *sequence.WetLimit) {
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
		res.others = strings.Split(err.Error(), "\n")
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

// fields are those of what the recipe is now.
func (m Model) fields() []field {
	list := fieldsOf(&m.base, &m.result.recipe, m.env.Units())
	return append(m.startFields(), list...)
}

// startFields are what the form starts from: of the person's own recipe whether it is changed
// itself, of a new one which recipe gives what is not typed.
func (m Model) startFields() []field {
	if m.mayReplace {
		return []field{{id: asNew, group: "Recipe", label: "this is", meaning: "Whether the recipe is changed, or stays as it is and a new one is made from it.",
			choices: []choice{{"", m.from.Name + ", changed"}, {"new", "a new recipe"}},
			get: func(*sequence.Recipe) string {
				if m.inPlace {
					return ""
				}
				return "new"
			}}}
	}
	var list []choice
	for _, e := range m.entries {
		list = append(list, choice{e.Name, e.Title})
	}
	return []field{{id: startsFrom, group: "Recipe", label: "starts from", choices: list, usual: "one that is handled as you handle film",
		meaning: "The recipe that gives everything you do not change: its baths, their cautions, its rhythm. Times of shipped recipes are invented: test your own film.",
		get:     func(*sequence.Recipe) string { return m.from.Name }}}
}

// The ids of those two.
const (
	asNew      = "as new"
	startsFrom = "starts from"
)

// firstFault is the first field with a fault; -1 where none has one.
func (m Model) firstFault() int {
	return slices.IndexFunc(m.fields(), func(f field) bool { return m.result.faults[f.id] != "" })
}
