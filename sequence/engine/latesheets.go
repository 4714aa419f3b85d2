package engine

// Which sheets a person who sees nothing may mean: one that may still be where it was
// before the record moved it, one that may be lost or set aside.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// lateFor is how long after its move a sheet may still be found where it was.
const lateFor = 5 * time.Minute

// LateSheet is a sheet that may still be where it was before it was moved.
type LateSheet struct {
	Sheet    int
	Together bool // those moved with it are where they were too
}

// LateSheets are the sheets that were moved in the last five minutes, the one moved last
// first; of those moved at once the first stands for all.
func (s State) LateSheets(now sequence.Elapsed) []LateSheet {
	var list []LateSheet
	for k := range s.plan.Sheets {
		to := s.where(k)
		if s.Refuse(sequence.MarkLate{Sheet: k + 1}, now).Refused() || now-s.movedAt(k) > lateFor {
			continue
		}
		all := s.plan.Sheets == 1 || s.plan.MovesTogether(to-1)
		if all && slices.ContainsFunc(list, func(o LateSheet) bool { return s.where(o.Sheet-1) == to }) {
			continue
		}
		list = append(list, LateSheet{k + 1, all})
	}
	slices.SortStableFunc(list, func(a, b LateSheet) int { return cmp.Compare(s.movedAt(b.Sheet-1), s.movedAt(a.Sheet-1)) })
	return list
}

// SheetsToSetAside are the sheets that can be set aside, the one that moves on next first, and
// then in order.
func (s State) SheetsToSetAside(now sequence.Elapsed) []int {
	var list []int
	for k := range s.plan.Sheets {
		if !s.Refuse(sequence.SetSheetAside{Sheet: k + 1}, now).Refused() {
			list = append(list, k+1)
		}
	}
	if i := slices.Index(list, s.forecastNow.change.sheet); i > 0 {
		list = slices.Insert(slices.Delete(list, i, i+1), 0, s.forecastNow.change.sheet)
	}
	return list
}
