// Package schedule is where every sheet is when, and what is heard then: one account that the
// planner and the engine share, so that they cannot differ.
//
// Start with Layout.Complete. It is pure: no clock, no disk, and nothing is decided here about
// what a person did.
package schedule

// Where every sheet is when: the one function that both the plan and the
// running session use. What has happened stands; what has not is laid out by
// the rules of the contract.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// tolerated is how much later than due a sheet must have left before the rest of
// its row shifts: a reading that corrects the past by less moves nobody.
const tolerated = time.Second

// Layout is what a forecast starts from.
type Layout struct {
	Plan      *sequence.Plan
	Rates     []chem.Rate        // one a step
	Courses   []chem.Course      // one a step; only those that develop are used
	Doses     []sequence.Elapsed // one a step: what is to be reached
	Done      Stays              // what has happened
	NotBefore sequence.Elapsed   // nothing is laid out before this
	Lift      Lift               // what drains already
	AsAsked   bool               // film leaves a bath that waits for the person when that is asked for, and drips no time
}

// NewLayout is that of a session in which nothing has happened.
func NewLayout(p *sequence.Plan) (Layout, error) {
	n := len(p.Steps)
	l := Layout{Plan: p, Rates: make([]chem.Rate, n), Courses: make([]chem.Course, n), Doses: make([]sequence.Elapsed, n), Done: NewStays(p)}
	for i := range p.Steps {
		st := &p.Steps[i]
		var err error
		if l.Rates[i], err = st.Rate(); err != nil {
			return Layout{}, err
		}
		if l.Doses[i] = st.Dose; st.TimeByTemperature != nil {
			l.Courses[i] = p.Course(st)
		}
	}
	return l, nil
}

// Complete completes what has happened with what will, if nothing intervenes.
func (l *Layout) Complete() (Stays, error) {
	f := slices.Clone(l.Done)
	for s := range l.Plan.Steps {
		row := f.Row(l.Plan, s)
		if !l.someoneIn(f, row) {
			continue // all that has happened stands
		}
		l.enter(f, s, row)
		due, err := l.due(s, row)
		if err != nil {
			return nil, err
		}
		lift := l.liftOf(s, row, due)
		for k := range due {
			switch {
			case !lift.Of(s) || lift.Sheet != 0 && lift.Sheet != k+1:
			case l.Plan.LeavesStaggered(s):
				due[k] = lift.At // the others follow it
			default:
				due[k] = min(due[k], lift.At)
			}
		}
		if l.Plan.LeavesStaggered(s) {
			if err = l.staggerExits(s, row, f.Row(l.Plan, s+1), due); err != nil {
				return nil, err
			}
		}
		l.leave(s, row, due, lift)
	}
	f.LiftSetAside(l.Plan)
	return f, nil
}

// someoneIn reports whether some sheet has yet to leave a row.
func (l *Layout) someoneIn(f Stays, row []Stay) bool {
	for k, y := range row {
		if y.Out == sequence.Never && !f.IsSetAside(l.Plan, k) {
			return true
		}
	}
	return false
}

// enter fills in when each sheet comes into step s: from the step before, or dry,
// load_every after the last that was loaded.
func (l *Layout) enter(f Stays, s int, row []Stay) {
	p := l.Plan
	every := sequence.Elapsed(0)
	if p.Steps[0].Stack {
		every = p.Recipe.Load.LoadEvery
	}
	loaded := l.NotBefore - every
	if _, last, _, _ := Bounds(row); slices.ContainsFunc(row, func(y Stay) bool { return y.In != sequence.Never }) {
		loaded = last
	}
	for k := range row {
		switch {
		case row[k].In != sequence.Never || f.IsSetAside(p, k):
		case s > 0:
			row[k].In = f.Row(p, s-1)[k].Out
		default:
			loaded = max(loaded+every, l.NotBefore)
			row[k].In = loaded
		}
	}
}

// due is when each sheet has had its time in step s, as if it could leave then.
func (l *Layout) due(s int, row []Stay) ([]sequence.Elapsed, error) {
	st := &l.Plan.Steps[s]
	_, last, _, _ := Bounds(row)
	due, first := make([]sequence.Elapsed, len(row)), -1
	for k := range row {
		from, dose := last, l.Doses[s]
		if row[k].In == sequence.Never {
			due[k] = sequence.Never
			continue
		}
		if st.StaggeredEntry() {
			lead := longestTimeIn(st, row)
			from, dose = row[lead].In, st.Doses[lead]
		}
		if l.Plan.OwnTimes(s) {
			from = row[k].In
		} else if first >= 0 {
			due[k] = due[first]
			continue
		}
		first = k
		if st.PullsSheets() {
			dose = st.Doses[k]
		}
		var err error
		if due[k], err = l.until(s, from, dose); err != nil {
			return nil, err
		}
	}
	return due, nil
}

// until is when a sheet that came into step s at from has reached dose.
func (l *Layout) until(s int, from, dose sequence.Elapsed) (sequence.Elapsed, error) {
	if l.Plan.Steps[s].TimeByTemperature == nil {
		return from + dose, nil
	}
	return chem.Until(l.Rates[s], l.Courses[s], from, dose)
}

// leave fills in when each sheet goes out of step s: all together; each at its
// own time; or one by one in the order in which they came, move_every apart, from
// the moment at which the last has had its time. A hand that was late with one
// sheet needs move_every for the next.
func (l *Layout) leave(s int, row []Stay, due []sequence.Elapsed, lift Lift) {
	p, st, own := l.Plan, &l.Plan.Steps[s], l.Plan.OwnTimes(s)
	hung := p.LeavesStaggered(s) && !st.Stack && !p.Steps[s+1].Stack // several may go at one moment
	free := l.NotBefore                                              // when the hand is free for the next sheet
	if lift.Of(s) {
		free = max(free, lift.At)
	}
	busy := func(k int) {
		if !own && !p.LeavesTogether(s) && !hung || own && st.Stack && row[k].Out > due[k]+tolerated {
			free = max(free, row[k].Out+p.Recipe.Load.TransferEvery)
		}
	}
	order := slices.DeleteFunc(entryOrder(row), func(k int) bool {
		gone := row[k].Out != sequence.Never
		if gone {
			busy(k)
		}
		return gone || row[k].In == sequence.Never
	})
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(due[a], due[b]) })
	for _, k := range order {
		row[k].Out = max(due[k], free)
		busy(k)
	}
}

// liftOf is what is lifted out of step s and drips before it goes: what is lifted already; or where
// the step waits for the person what will be, if they press when they are asked.
func (l *Layout) liftOf(s int, row []Stay, due []sequence.Elapsed) Lift {
	st := &l.Plan.Steps[s]
	if l.Lift.Of(s) {
		return l.Lift
	}
	if l.AsAsked || !st.WaitForPerson || st.Drain == 0 || slices.ContainsFunc(row, func(y Stay) bool { return y.In != sequence.Never && y.Out != sequence.Never }) {
		return Lift{}
	}
	order := slices.DeleteFunc(entryOrder(row), func(k int) bool { return row[k].In == sequence.Never })
	lead := slices.MinFunc(order, func(a, b int) int { return cmp.Compare(due[a], due[b]) })
	if l.Plan.LeavesStaggered(s) {
		lead = longestTimeIn(&l.Plan.Steps[s+1], row)
	}
	lift := Lift{Step: s + 1, Sheet: lead + 1, At: max(due[lead], l.NotBefore) + st.Drain}
	if l.Plan.LeavesTogether(s) {
		lift.Sheet = 0
	}
	return lift
}

// Lift is film lifted out of a bath that waited for the person's word: it drains, and
// then it goes. The zero value is none.
type Lift struct {
	Step  int // counted from 1
	Sheet int // 0 for all
	At    sequence.Elapsed
}

// Of reports whether it is a lift out of step i.
func (l Lift) Of(i int) bool { return l.Step == i+1 && i >= 0 }
