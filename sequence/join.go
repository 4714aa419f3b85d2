package sequence

// A film test the other way round: the sheet with the longest time goes into the
// developer first, the others wait in the bath before and follow at their own times,
// and all leave the developer at one moment.

import (
	"slices"
	"time"
)

// longest is the sheet of a row (from 0) whose time is the longest.
func longest(st *PlanStep, row []stay) int {
	lead := -1
	for k := range row {
		if row[k].in != Never && (lead < 0 || st.Doses[k] > st.Doses[lead]) {
			lead = k
		}
	}
	return max(0, lead)
}

// part changes when sheets are due out of step s to when they must go into the film
// test that follows: the longest at once, each other so that it has had its time when
// the longest has. What went in already counts from then.
func (l *layout) part(s int, row, next []stay, due []Elapsed) error {
	st := &l.plan.Steps[s+1]
	row = slices.Clone(row)
	for k := range row {
		if row[k].out != Never && next[k].in == Never {
			row[k].in = Never // set aside here: it comes into the film test no more
		}
	}
	lead := longest(st, row)
	from := due[lead]
	if row[lead].out != Never {
		from = next[lead].in
	}
	end, err := l.until(s+1, from, st.Doses[lead])
	if err != nil {
		return err
	}
	for k := range row {
		if k == lead || row[k].in == Never {
			continue
		}
		in, err := l.since(s+1, end, st.Doses[k])
		if err != nil {
			return err
		}
		due[k] = max(due[k], in)
	}
	return nil
}

// since is when a sheet must come into step s to have reached dose at end: found by
// Newton's rule, to the nanosecond.
func (l *layout) since(s int, end, dose Elapsed) (Elapsed, error) {
	in := end - dose
	if l.plan.Steps[s].Works == nil {
		return in, nil
	}
	const rounds = 30
	for range rounds {
		had, err := l.doseOf(s, in, end)
		if err != nil {
			return 0, err
		}
		rate, err := l.rates[s].At(l.courses[s].At(in))
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
