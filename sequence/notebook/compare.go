package notebook

// Two sessions beside each other, like beside like: which step of one is compared with
// which of the other, and where it is worth telling sheet by sheet.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// PlannedAt is what the plan took the developer to read; nil where it has none.
func (s *Session) PlannedAt() *sequence.Celsius {
	if s.Plan == nil {
		return nil
	}
	if t := s.Plan.Conditions.BathTemperature; t != nil {
		return t
	}
	for i := range s.Plan.Steps {
		if w := s.Plan.Steps[i].TimeByTemperature; w != nil {
			return &w.At
		}
	}
	return nil
}

// FirstReading is what was read first while the session ran; nil for nothing.
func (s *Session) FirstReading() *sequence.Celsius {
	if len(s.Readings) == 0 {
		return nil
	}
	return s.Readings[0].Temperature
}

// Pair is a step of each of two sessions, one of them nil where it has none alike.
type Pair struct{ A, B *StepDone }

// Pairs are the steps of the first session, each with that of the second which has its
// name, or else the next that is left of its kind; then what only the second has.
func Pairs(a, b *Session) []Pair {
	list := make([]Pair, len(a.Steps))
	taken := make([]bool, len(b.Steps))
	match := func(alike func(x, y *sequence.PlanStep) bool) {
		for i := range a.Steps {
			list[i].A = &a.Steps[i]
			for j := range b.Steps {
				if list[i].B == nil && !taken[j] && alike(a.Steps[i].Plan, b.Steps[j].Plan) {
					list[i].B, taken[j] = &b.Steps[j], true
				}
			}
		}
	}
	match(func(x, y *sequence.PlanStep) bool { return x.Name == y.Name && x.Kind == y.Kind })
	match(func(x, y *sequence.PlanStep) bool { return x.Kind == y.Kind })
	for j := range b.Steps {
		if !taken[j] {
			list = append(list, Pair{nil, &b.Steps[j]})
		}
	}
	return list
}

// EachSheet is how many sheets are worth a row of their own, where not all of a developing
// step had the same time; 0 for none.
func (p Pair) EachSheet() int {
	if !p.A.unlike() && !p.B.unlike() {
		return 0
	}
	return max(p.A.last(), p.B.last())
}

// worthTelling is by how much the times of sheets must differ to be told sheet by sheet:
// a bath that drifts makes some seconds (our own rule).
const worthTelling = 10 * time.Second

// unlike reports whether the sheets of a developing step had times that differ.
func (s *StepDone) unlike() bool {
	least, most := s.Span()
	return s != nil && s.Plan.Kind == sequence.Develop && most-least >= worthTelling
}

// Span is the shortest and the longest time of the step's sheets that were not set aside;
// Never and 0 for none.
func (s *StepDone) Span() (least, most sequence.Elapsed) {
	least = sequence.Never
	if s == nil {
		return least, 0
	}
	for _, y := range s.Sheets {
		if !y.Aside {
			least, most = min(least, y.Given), max(most, y.Given)
		}
	}
	return least, most
}

// last is the number of the last sheet that came into the step.
func (s *StepDone) last() (n int) {
	if s == nil {
		return 0
	}
	for _, y := range s.Sheets {
		n = max(n, y.Sheet)
	}
	return n
}

// Doubtful reports whether a bath was outside the recipe's table while film was in it.
func (s *Session) Doubtful() bool {
	return slices.ContainsFunc(s.Steps, func(st StepDone) bool {
		return slices.ContainsFunc(st.Sheets, func(y SheetInStep) bool {
			return y.Developed != nil && y.Developed.Uncertain && !y.Aside
		})
	})
}
