package engine

// The film laid out to its end from where it is.

import (
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// floor is the moment before which nothing more is laid out: now, but in a countdown
// that nobody cut short not before its end.
func (f filmState) floor(now sequence.Elapsed) sequence.Elapsed {
	if start, _, _, _ := schedule.Bounds(f.film.Row(f.plan, 0)); start != sequence.Never {
		return now
	}
	return max(0, now)
}

// layOut lays the film out, nothing before floor.
func (f filmState) layOut(floor sequence.Elapsed) schedule.Stays { return f.laidOut(floor, false) }

// layOutBoth is the film laid out, and as laidOut does it when asked; the same where nothing drains
// after a press.
func (f filmState) layOutBoth(floor sequence.Elapsed) (laid, asked schedule.Stays) {
	laid = f.layOut(floor)
	if !f.plan.DrainsAfterPress() {
		return laid, laid
	}
	return laid, f.laidOut(floor, true)
}

// laidOut lays the film out, nothing before floor; asked: out of a bath that waits for the person it
// goes when that is asked for, and not when it has dripped.
func (f filmState) laidOut(floor sequence.Elapsed, asked bool) schedule.Stays {
	l := schedule.Layout{Plan: f.plan, AsAsked: asked, Rates: f.rates, Doses: f.doses, Done: f.film, NotBefore: floor, Lift: f.lift}
	l.Courses = make([]chem.Course, len(f.plan.Steps))
	for i := range f.plan.Steps {
		if f.plan.Steps[i].TimeByTemperature != nil {
			l.Courses[i] = f.course(i)
		}
	}
	laid, err := l.Complete()
	if err != nil { // cannot be: the rates go on past their tables
		return slices.Clone(f.film)
	}
	return laid
}
