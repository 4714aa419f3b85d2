package holders

// What is found out about sheets, outside Update: their outcome, and the time and index of
// what they want.

import (
	"slices"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
)

// waitingFirst is the list, those that wait first, and how many do.
func waitingFirst(b Backend, sheets []holders.ExposedSheet, outcomes []holders.Outcome) (list []listed, waits int) {
	shares := holders.DevelopedShares(outcomes, b.Read)
	var waiting, done []listed
	for i := range sheets {
		e := listed{ExposedSheet: sheets[i], outcome: outcomes[i], share: shares[i]}
		if e.outcome.Session == "" {
			waiting = append(waiting, e)
		} else {
			done = append(done, e)
		}
	}
	timed(b, waiting)
	return append(waiting, done...), len(waiting)
}

// timed finds the time and the exposure index of what each sheet wants, by the first recipe
// for its film.
func timed(b Backend, list []listed) {
	sheets := make([]holders.ExposedSheet, len(list))
	for i := range list {
		sheets[i] = list[i].ExposedSheet
	}
	curves := filmCurves(b, sheets)
	by := holders.Grouper{Printing: holders.UsualPrinting, Response: holders.ResponsesFrom(b.Densities(), b.Read)}
	for _, f := range filmRecipes(b, sheets) {
		if len(f.names) == 0 {
			continue
		}
		r, err := b.Recipe(f.names[0])
		if err != nil {
			continue
		}
		usual, unusual := by.Wanted(&holders.ExposedSheet{Holder: "0"}, &r)
		for i := range list {
			e := &list[i]
			if e.Film != f.film {
				continue
			}
			w, err := by.Wanted(&e.ExposedSheet, &r)
			if err != nil {
				e.why = err.Error()
				continue
			}
			e.time = w.Time
			e.whyNoIndex = "no readings of " + e.Film + " tell it for this time"
			if w.Print != nil {
				e.index = holders.PrintIndex(&r, w.Print)
			} else if w.Time == usual.Time && found(&r) {
				e.index = &r.Film.ExposureIndex
			} else if out, ok := curves[e.Film]; ok {
				e.index = out.IndexAt(w.Time)
				e.whyNoIndex = "its readings do not tell it for this time"
			}
			if e.index == nil && unusual == nil && w.Time == usual.Time && r.Film.ExposureIndex > 0 {
				e.index = &r.Film.ExposureIndex
			}
			if e.index != nil {
				e.whyNoIndex = ""
			}
		}
	}
	for i := range list {
		if list[i].time == 0 && list[i].why == "" {
			list[i].why = "no recipe for " + list[i].Film
		}
	}
}

// found reports whether the recipe's index is that of the print its times were found for.
func found(r *sequence.Recipe) bool {
	return r.Film.ExposureIndex > 0 && slices.ContainsFunc(r.Steps, func(st sequence.Step) bool { return st.Aim != nil && st.Aim.Print != nil })
}

// filmNames are the films that recipes or sheets name.
func filmNames(b Backend, sheets []holders.ExposedSheet) (list []string) {
	for i := range sheets {
		list = append(list, sheets[i].Film)
	}
	for _, e := range b.Recipes() {
		if e.Fault == nil && e.Film != "" {
			list = append(list, e.Film)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// filmRecipe is a film and the recipes that there are for it.
type filmRecipe struct {
	film  string
	names []string
	at    int // the one that is used
}

// filmRecipes are those for each film that waits: one's own before the shipped.
func filmRecipes(b Backend, sheets []holders.ExposedSheet) (list []filmRecipe) {
	entries := recipes.OwnFirst(recipes.Usable(b.Recipes()))
	for i := range sheets {
		film := sheets[i].Film
		if slices.ContainsFunc(list, func(r filmRecipe) bool { return r.film == film }) {
			continue
		}
		r := filmRecipe{film: film}
		for _, e := range entries {
			if e.Film == film {
				r.names = append(r.names, e.Name)
			}
		}
		list = append(list, r)
	}
	return list
}

// filmCurves are the curves of the films' newest readings: they tell how the index shifts
// with development.
func filmCurves(b Backend, sheets []holders.ExposedSheet) map[string]curve.Results {
	found := map[string]curve.Results{}
	for _, k := range b.Densities() {
		film := k.Readings.Film
		_, have := found[film]
		if k.Err != nil || have || !slices.ContainsFunc(sheets, func(e holders.ExposedSheet) bool { return e.Film == film }) {
			continue
		}
		f, _, _, _ := k.FamilyBySession(b.Read)
		q := curve.Request{}
		if anchor, err := curve.ParseExposed(k.Readings.Metered); err == nil {
			q.SpeedAnchor = &anchor
		}
		if out, err := curve.Evaluate(f, q); err == nil {
			found[film] = out
		}
	}
	return found
}
