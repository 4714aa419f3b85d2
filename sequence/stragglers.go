package sequence

// Which sheets a person who sees nothing may mean: one that may still be where it was
// before the record moved it, one that may be lost or set aside.

import (
	"cmp"
	"slices"
	"time"
)

// lately is how long after its move a sheet may still be found where it was.
const lately = 5 * time.Minute

// Straggler is a sheet that may still be where it was before it was moved.
type Straggler struct {
	Sheet int
	All   bool // those moved with it are where they were too
}

// Stragglers are the sheets that were moved in the last five minutes, the one moved last
// first; of those moved at once the first stands for all.
func (s State) Stragglers(now Elapsed) []Straggler {
	if !s.began || s.over != "" {
		return nil
	}
	var list []Straggler
	for k := range s.plan.Sheets {
		to := s.where(k)
		if s.Refuse(Late{Sheet: k + 1}, now) != "" || now-s.movedAt(k) > lately {
			continue
		}
		all := s.plan.Sheets > 1 && s.plan.Along(to-1)
		if all && slices.ContainsFunc(list, func(o Straggler) bool { return o.All && s.where(o.Sheet-1) == to }) {
			continue
		}
		list = append(list, Straggler{k + 1, all || s.plan.Sheets == 1})
	}
	slices.SortStableFunc(list, func(a, b Straggler) int { return cmp.Compare(s.movedAt(b.Sheet-1), s.movedAt(a.Sheet-1)) })
	return list
}

// movedAt is when sheet k was moved to where it is; Never for one that was not.
func (s State) movedAt(k int) Elapsed {
	switch to := s.where(k); {
	case to < 0:
		return Never
	case to < len(s.plan.Steps):
		return s.moves.film.row(s.plan, to)[k].in
	}
	return s.moves.film.row(s.plan, len(s.plan.Steps)-1)[k].out
}

// Losable are the sheets that can be set aside, the one that moves on next first, and
// then in order.
func (s State) Losable(now Elapsed) []int {
	if !s.began || s.over != "" {
		return nil
	}
	var list []int
	for k := range s.plan.Sheets {
		if s.Refuse(Aside{Sheet: k + 1}, now) == "" {
			list = append(list, k+1)
		}
	}
	if i := slices.Index(list, s.ahead.edge.sheet); i > 0 {
		list = slices.Insert(slices.Delete(list, i, i+1), 0, s.ahead.edge.sheet)
	}
	return list
}
