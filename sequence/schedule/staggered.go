package schedule

// A film test the other way round: the sheet with the longest time goes into the
// developer first, the others wait in the bath before and follow at their own times,
// and all leave the developer at one moment.

import (
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// longestTimeIn is the sheet of a row (from 0) whose time is the longest.
func longestTimeIn(st *sequence.PlanStep, row []Stay) int {
	lead := -1
	for k := range row {
		if row[k].In != sequence.Never && (lead < 0 || st.Doses[k] > st.Doses[lead]) {
			lead = k
		}
	}
	return max(0, lead)
}

// staggerExits changes when sheets are due out of step s to when they must go into the film
// test that follows: the longest at once, each other so that it has had its time when
// the longest has. What went in already counts from then.
func (l *Layout) staggerExits(s int, row, next []Stay, due []sequence.Elapsed) error {
	st := &l.Plan.Steps[s+1]
	row = slices.Clone(row)
	for k := range row {
		if row[k].Out != sequence.Never && next[k].In == sequence.Never {
			row[k].In = sequence.Never // set aside here: it comes into the film test no more
		}
	}
	lead := longestTimeIn(st, row)
	from := due[lead]
	if row[lead].Out != sequence.Never {
		from = next[lead].In
	}
	end, err := l.until(s+1, from, st.Doses[lead])
	if err != nil {
		return err
	}
	for k := range row {
		if k == lead || row[k].In == sequence.Never {
			continue
		}
		in, err := l.entryFor(s+1, end, st.Doses[k])
		if err != nil {
			return err
		}
		due[k] = max(due[k], in)
	}
	return nil
}

// entryFor is when a sheet must come into step s to have reached dose at end: found by
// Newton's rule, to the nanosecond.
func (l *Layout) entryFor(s int, end, dose sequence.Elapsed) (sequence.Elapsed, error) {
	in := end - dose
	if l.Plan.Steps[s].TimeByTemperature == nil {
		return in, nil
	}
	const rounds = 30
	for range rounds {
		had, err := chem.Dose(l.Rates[s], l.Courses[s], in, end)
		if err != nil {
			return 0, err
		}
		rate, err := l.Rates[s].At(l.Courses[s].At(in))
		if err != nil {
			return 0, err
		}
		step := time.Duration(float64(had-dose) / rate)
		if in += step; step == 0 {
			break
		}
	}
	return in, nil
}
