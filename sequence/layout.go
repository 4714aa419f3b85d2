package sequence

// Where every sheet is when: the one function that both the plan and the
// running session use. What has happened stands; what has not is laid out by
// the rules of the contract.

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.org/wetside/chem"
)

// Never is the time of what has not happened.
const Never Elapsed = math.MaxInt64

// lateness is how much later than due a sheet must have left before the rest of
// its row shifts: a reading that corrects the past by less moves nobody.
const lateness = time.Second

// stay is one sheet's time in one step.
type stay struct{ in, out Elapsed }

// film holds a stay for each step and sheet: film[step*sheets+sheet]; and, after the
// last step, one for each sheet that was set aside in plain water for good.
type film []stay

func newFilm(p *Plan) film {
	f := make(film, (len(p.Steps)+1)*p.Sheets)
	for i := range f {
		f[i] = stay{Never, Never}
	}
	return f
}

// row is the stays of all sheets in step s.
func (f film) row(p *Plan, s int) []stay { return f[s*p.Sheets : (s+1)*p.Sheets] }

// aside reports whether sheet k (from 0) was set aside.
func (f film) aside(p *Plan, k int) bool { return f.row(p, len(p.Steps))[k].in != Never }

// span gives a row's first entry, last entry, first exit and last exit; sheets that
// never come into it are left out.
func span(row []stay) (start, last, moves, end Elapsed) {
	start, moves = Never, Never
	for _, y := range row {
		if y.in == Never {
			continue
		}
		if start == Never {
			last, end = y.in, y.out // the first may be in before 0, where the countdown was cut short
		}
		start, last = min(start, y.in), max(last, y.in)
		moves, end = min(moves, y.out), max(end, y.out)
	}
	return
}

// layout is what a forecast starts from.
type layout struct {
	plan    *Plan
	rates   []chem.Rate   // one a step
	courses []chem.Course // one a step; only those that develop are used
	doses   []Elapsed     // one a step: what is to be reached
	done    film          // what has happened
	floor   Elapsed       // nothing is laid out before this
	lift    lift          // what drains already
}

// newLayout is that of a session in which nothing has happened.
func newLayout(p *Plan) (layout, error) {
	n := len(p.Steps)
	l := layout{plan: p, rates: make([]chem.Rate, n), courses: make([]chem.Course, n), doses: make([]Elapsed, n), done: newFilm(p)}
	for i := range p.Steps {
		st := &p.Steps[i]
		var err error
		if l.rates[i], err = st.rate(); err != nil {
			return layout{}, err
		}
		if l.doses[i] = st.Dose; st.Works != nil {
			l.courses[i] = p.course(st)
		}
	}
	return l, nil
}

// lay completes what has happened with what will, if nothing intervenes.
func (l *layout) lay() (film, error) {
	f := slices.Clone(l.done)
	for s := range l.plan.Steps {
		row := f.row(l.plan, s)
		if !l.open(f, row) {
			continue // all that has happened stands
		}
		l.enter(f, s, row)
		due, err := l.due(s, row)
		if l.lift.of(s) {
			for k := range due {
				if l.lift.sheet == 0 || l.lift.sheet == k+1 {
					due[k] = min(due[k], l.lift.at)
				}
			}
		}
		if err == nil && l.plan.parting(s) {
			err = l.part(s, row, f.row(l.plan, s+1), due)
		}
		if err != nil {
			return nil, err
		}
		l.leave(s, row, due)
	}
	f.liftAside(l.plan)
	return f, nil
}

// open reports whether some sheet has yet to leave a row.
func (l *layout) open(f film, row []stay) bool {
	for k, y := range row {
		if y.out == Never && !f.aside(l.plan, k) {
			return true
		}
	}
	return false
}

// liftAside takes what was set aside out of the water with the last lift out of a
// wet bath.
func (f film) liftAside(p *Plan) {
	var end Elapsed
	for s := range p.Steps {
		if _, _, _, out := span(f.row(p, s)); !p.Steps[s].Dry && out != Never {
			end = max(end, out)
		}
	}
	for k := range p.Sheets {
		if y := &f.row(p, len(p.Steps))[k]; y.in != Never && y.out == Never {
			y.out = max(end, y.in)
		}
	}
}

// enter fills in when each sheet comes into step s: from the step before, or dry,
// load_every after the last that was loaded.
func (l *layout) enter(f film, s int, row []stay) {
	p := l.plan
	every := Elapsed(0)
	if p.Steps[0].Stack {
		every = p.Recipe.Load.LoadEvery
	}
	loaded := l.floor - every
	if _, last, _, _ := span(row); slices.ContainsFunc(row, func(y stay) bool { return y.in != Never }) {
		loaded = last
	}
	for k := range row {
		switch {
		case row[k].in != Never || f.aside(p, k):
		case s > 0:
			row[k].in = f.row(p, s-1)[k].out
		default:
			loaded = max(loaded+every, l.floor)
			row[k].in = loaded
		}
	}
}

// due is when each sheet has had its time in step s, as if it could leave then.
func (l *layout) due(s int, row []stay) ([]Elapsed, error) {
	st := &l.plan.Steps[s]
	_, last, _, _ := span(row)
	due, first := make([]Elapsed, len(row)), -1
	for k := range row {
		from, dose := last, l.doses[s]
		if row[k].in == Never {
			due[k] = Never
			continue
		}
		if st.joins() {
			lead := longest(st, row)
			from, dose = row[lead].in, st.Doses[lead]
		}
		if l.plan.own(s) {
			from = row[k].in
		} else if first >= 0 {
			due[k] = due[first]
			continue
		}
		first = k
		if st.TakesOut() {
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
func (l *layout) until(s int, from, dose Elapsed) (Elapsed, error) {
	if l.plan.Steps[s].Works == nil {
		return from + dose, nil
	}
	return chem.Until(l.rates[s], l.courses[s], from, dose)
}

// doseOf is what a sheet gets in step s between two moments.
func (l *layout) doseOf(s int, from, to Elapsed) (Elapsed, error) {
	if from > to {
		d, err := chem.Dose(l.rates[s], l.courses[s], to, from)
		return -d, err
	}
	return chem.Dose(l.rates[s], l.courses[s], from, to)
}

// leave fills in when each sheet goes out of step s: all together; each at its
// own time; or one by one in the order in which they came, move_every apart, from
// the moment at which the last has had its time. A hand that was late with one
// sheet needs move_every for the next.
func (l *layout) leave(s int, row []stay, due []Elapsed) {
	p, st, own := l.plan, &l.plan.Steps[s], l.plan.own(s)
	hung := p.parting(s) && !st.Stack && !p.Steps[s+1].Stack // several may go at one moment
	free := l.floor                                          // when the hand is free for the next sheet
	if l.lift.of(s) {
		free = max(free, l.lift.at)
	}
	busy := func(k int) {
		if !own && !p.together(s) && !hung || own && st.Stack && row[k].out > due[k]+lateness {
			free = max(free, row[k].out+p.Recipe.Load.MoveEvery)
		}
	}
	order := slices.DeleteFunc(entryOrder(row), func(k int) bool {
		gone := row[k].out != Never
		if gone {
			busy(k)
		}
		return gone || row[k].in == Never
	})
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(due[a], due[b]) })
	for _, k := range order {
		row[k].out = max(due[k], free)
		busy(k)
	}
}

// exitOrder lists the sheets of a row in the order in which they go out.
func exitOrder(row []stay) []int {
	order := entryOrder(row)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(row[a].out, row[b].out) })
	return order
}

// entryOrder lists the sheets of a row in the order in which they came in.
func entryOrder(row []stay) []int {
	order := make([]int, len(row))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(row[a].in, row[b].in) })
	return order
}

// passages lists the stays that have begun, or that are laid out.
func (f film) passages(p *Plan) []Passage {
	list := make([]Passage, 0, len(f))
	for s := range p.Steps {
		for k, y := range f.row(p, s) {
			if y.in != Never {
				list = append(list, Passage{Step: s, Sheet: k + 1, In: y.in, Out: y.out})
			}
		}
	}
	return list
}

// still is a row without the sheets that were set aside: they are called no more.
func (f film) still(p *Plan, s int) []stay {
	row := slices.Clone(f.row(p, s))
	for k := range row {
		if f.aside(p, k) {
			row[k] = stay{Never, Never}
		}
	}
	return row
}
