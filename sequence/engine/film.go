package engine

// Where the film is, and what has been said about it. A value: what happens makes another.

import (
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// filmState is where the film is and what has been said about it.
type filmState struct {
	plan  *sequence.Plan
	rates []chem.Rate

	film     schedule.Stays
	doses    []sequence.Elapsed // to be reached, one a step; less where the person moved on early
	readings *bathReadings      // of the developer while running; nil for none
	late     []bool             // sheets said to be where they were, and not moved since; nil for none
	held     bool
	lift     schedule.Lift    // what is lifted at the person's word, and goes when it has dripped
	overdue  bool             // the next move's time has passed without it
	since    sequence.Elapsed // since when
}

// where is the step that sheet k (from 0) is in: -1 dry, len(Steps) out or set aside.
func (f filmState) where(k int) int {
	if f.film.IsSetAside(f.plan, k) {
		return len(f.plan.Steps)
	}
	for i := range f.plan.Steps {
		y := f.film.Row(f.plan, i)[k]
		if y.In == sequence.Never {
			return i - 1
		}
		if y.Out == sequence.Never {
			return i
		}
	}
	return len(f.plan.Steps)
}

// empty reports whether no sheet is in step i at present.
func (f filmState) empty(i int) bool { return liesIn(f, i) == 0 }

// entered reports whether a sheet is, or was, in step i.
func (f filmState) entered(i int) bool {
	return slices.ContainsFunc(f.film.Row(f.plan, i), func(y schedule.Stay) bool { return y.In != sequence.Never })
}

func (f filmState) allIn(i int) bool {
	for k, y := range f.film.Row(f.plan, i) {
		if y.In == sequence.Never && !f.film.IsSetAside(f.plan, k) {
			return false
		}
	}
	return true
}

// liesIn is how many sheets are in step i: -1 for dry, len(Steps) for out or set aside.
func liesIn(f filmState, i int) (n int) {
	for k := range f.plan.Sheets {
		if f.where(k) == i {
			n++
		}
	}
	return n
}

// notYetOut is how many sheets are not yet out of the last bath or set aside.
func notYetOut(f filmState) int { return f.plan.Sheets - liesIn(f, len(f.plan.Steps)) }

// bathed reports whether film is in a bath.
func bathed(f filmState) bool { return notYetOut(f) > liesIn(f, -1) }

// movedAt is when sheet k, which is no longer dry, was moved to where it is.
func (f filmState) movedAt(k int) sequence.Elapsed {
	to := f.where(k)
	if to < len(f.plan.Steps) {
		return f.film.Row(f.plan, to)[k].In
	}
	return f.film.Row(f.plan, to-1)[k].Out
}

// countsFrom is when the time of sheet k in step i counts from: its own entry in a
// developer, elsewhere that of the last sheet.
func (f filmState) countsFrom(i, k int) sequence.Elapsed {
	row := f.film.Row(f.plan, i)
	if f.plan.OwnTimes(i) {
		return row[k].In
	}
	_, last, _, _ := schedule.Bounds(row)
	return last
}

// Passages lists the stays that have happened, by step, then sheet. Out is Never
// while one lasts.
func (f filmState) Passages() []sequence.Passage { return f.film.Passages(f.plan) }

// StaysSetAside lists the stays in plain water of sheets that were set aside; Step is the bath
// that they were taken from. Out is Never while one lasts.
func (f filmState) StaysSetAside() []sequence.Passage {
	var list []sequence.Passage
	for k, y := range f.film.Row(f.plan, len(f.plan.Steps)) {
		if y.In == sequence.Never {
			continue
		}
		from := 0
		for i := range f.plan.Steps {
			if f.film.Row(f.plan, i)[k].In != sequence.Never {
				from = i
			}
		}
		list = append(list, sequence.Passage{Step: from, Sheet: k + 1, In: y.In, Out: y.Out})
	}
	return list
}
