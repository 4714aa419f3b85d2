package bottles

// What a session that is over writes into the ledger.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
)

// Bookings is what a session that is over writes into the ledger: for each bottle
// that its plan drew on, the film that came into that bath, which behind another fixer counts on that; for each bottle of stock what
// the baths mixed fresh took. A rehearsal, and a
// session that is open, write nothing.
func Bookings(s *notebook.Session) []Entry {
	if s.Rehearsal || s.Plan == nil || s.Ended == nil {
		return nil
	}
	var entries []Entry
	for _, k := range s.Plan.Conditions.OpenBottles {
		seen := map[int]bool{}
		for i := range s.Steps {
			if s.Steps[i].Plan.Bath != k.Bath {
				continue
			}
			for _, y := range s.Steps[i].Sheets {
				seen[y.Sheet] = true
			}
		}
		if area := float64(len(seen)) * s.Plan.Recipe.Load.Size.SquareInches(); area > 0 {
			entries = append(entries, Entry{At: *s.Ended, Action: Used, Bottle: k.Bottle, Session: s.ID, Area: area, Behind: planning.FixesBehind(s.Plan, k.Bath)})
		}
	}
	return append(entries, WithdrawalEntries(stockTaken(s), *s.Ended, s.ID)...)
}

// WithdrawalEntries is what draws come to in the ledger: one entry a bottle.
func WithdrawalEntries(draws []sequence.Withdrawal, at time.Time, session string) []Entry {
	var entries []Entry
	for _, d := range draws {
		i := slices.IndexFunc(entries, func(e Entry) bool { return e.Bottle == d.Bottle })
		switch {
		case d.Volume <= 0:
		case i >= 0:
			entries[i].Volume += d.Volume
		default:
			entries = append(entries, Entry{At: at, Action: Drawn, Bottle: d.Bottle, Session: session, Volume: d.Volume})
		}
	}
	return entries
}

// stockTaken is what a session that is over took from the stock: for each bath mixed fresh
// into which film came.
func stockTaken(s *notebook.Session) []sequence.Withdrawal {
	return slices.DeleteFunc(planning.Withdrawals(s.Plan), func(d sequence.Withdrawal) bool {
		return !slices.ContainsFunc(s.Steps, func(st notebook.StepDone) bool { return st.Plan.Bath == d.Bath && len(st.Sheets) > 0 })
	})
}
