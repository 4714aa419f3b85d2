package schedule

// Stays: in which bath each sheet is, from when to when.

import (
	"cmp"
	"slices"

	"example.org/wetside/sequence"
)

// PlannedStays is the sheets' stays as planned.
func PlannedStays(p *sequence.Plan) Stays {
	f := NewStays(p)
	for _, y := range p.Passages {
		f.Row(p, y.Step)[y.Sheet-1] = Stay{y.In, y.Out}
	}
	return f
}

// Stay is one sheet's time in one step.
type Stay struct{ In, Out sequence.Elapsed }

// Stays holds a stay for each step and sheet: film[step*sheets+sheet]; and, after the
// last step, one for each sheet that was set aside in plain water for good.
type Stays []Stay

func NewStays(p *sequence.Plan) Stays {
	f := make(Stays, (len(p.Steps)+1)*p.Sheets)
	for i := range f {
		f[i] = Stay{sequence.Never, sequence.Never}
	}
	return f
}

// Row is the stays of all sheets in step s.
func (f Stays) Row(p *sequence.Plan, s int) []Stay { return f[s*p.Sheets : (s+1)*p.Sheets] }

// IsSetAside reports whether sheet k (from 0) was set aside.
func (f Stays) IsSetAside(p *sequence.Plan, k int) bool {
	return f.Row(p, len(p.Steps))[k].In != sequence.Never
}

// Bounds gives a row's first entry, last entry, first exit and last exit; sheets that
// never come into it are left out.
func Bounds(row []Stay) (start, last, moves, end sequence.Elapsed) {
	start, moves = sequence.Never, sequence.Never
	for _, y := range row {
		if y.In == sequence.Never {
			continue
		}
		if start == sequence.Never {
			last, end = y.In, y.Out // the first may be in before 0, where the countdown was cut short
		}
		start, last = min(start, y.In), max(last, y.In)
		moves, end = min(moves, y.Out), max(end, y.Out)
	}
	return
}

// LiftSetAside takes what was set aside out of the water with the last sheet out of a
// wet bath.
func (f Stays) LiftSetAside(p *sequence.Plan) {
	var end sequence.Elapsed
	for s := range p.Steps {
		if _, _, _, out := Bounds(f.Row(p, s)); !p.Steps[s].OutsideWetTime && out != sequence.Never {
			end = max(end, out)
		}
	}
	for k := range p.Sheets {
		if y := &f.Row(p, len(p.Steps))[k]; y.In != sequence.Never && y.Out == sequence.Never {
			y.Out = max(end, y.In)
		}
	}
}

// Until is the stays as far as they went by a moment: what lasts ends then.
func (f Stays) Until(t sequence.Elapsed) Stays {
	f = slices.Clone(f)
	for i, y := range f {
		if y.In != sequence.Never {
			f[i].Out = min(y.Out, max(t, y.In))
		}
	}
	return f
}

// exitOrder lists the sheets of a row in the order in which they go out.
func exitOrder(row []Stay) []int {
	order := entryOrder(row)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(row[a].Out, row[b].Out) })
	return order
}

// entryOrder lists the sheets of a row in the order in which they came in.
func entryOrder(row []Stay) []int {
	order := make([]int, len(row))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(row[a].In, row[b].In) })
	return order
}

// Passages lists the stays that have begun, or that are laid out.
func (f Stays) Passages(p *sequence.Plan) []sequence.Passage {
	list := make([]sequence.Passage, 0, len(f))
	for s := range p.Steps {
		for k, y := range f.Row(p, s) {
			if y.In != sequence.Never {
				list = append(list, sequence.Passage{Step: s, Sheet: k + 1, In: y.In, Out: y.Out})
			}
		}
	}
	return list
}

// Remaining is a row without the sheets that were set aside: they are called no more.
func (f Stays) Remaining(p *sequence.Plan, s int) []Stay {
	row := slices.Clone(f.Row(p, s))
	for k := range row {
		if f.IsSetAside(p, k) {
			row[k] = Stay{sequence.Never, sequence.Never}
		}
	}
	return row
}
