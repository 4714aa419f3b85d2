package notebook

// Stock in hand: bottles of one part each, from which baths are mixed.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// Stock is a bottle of one part.
type Stock struct {
	Name, Part string
	Opened     time.Time
	Of, Left   sequence.Millilitres
	Sessions   []string   // that drew on it, each once
	ThrownAway *time.Time // nil while it stands on the shelf
}

// InHand is the bottle as a plan draws on it.
func (s Stock) InHand() sequence.InHand {
	return sequence.InHand{Part: s.Part, Bottle: s.Name, Left: s.Left, Of: s.Of}
}

// InHand lists the bottles of stock that are there, the one opened first first: that one
// is used up first.
func (b Baths) InHand() []sequence.InHand {
	var list []sequence.InHand
	for _, s := range b.Stock {
		if s.ThrownAway == nil {
			list = append(list, s.InHand())
		}
	}
	return list
}

// StockNamed is the bottle of stock called so, or the only one whose name begins so.
func (b Baths) StockNamed(name string) (Stock, error) {
	stands := slices.DeleteFunc(slices.Clone(b.Stock), func(s Stock) bool { return s.ThrownAway != nil })
	nameOf := func(s Stock) string { return s.Name }
	if found := sequence.Called(stands, nameOf, name); len(found) == 1 {
		return found[0], nil
	}
	return Stock{}, fmt.Errorf("stock %q: expected one of %q", name, sequence.Names(stands, nameOf))
}

// opened puts a bottle of stock on the shelf. A name that is taken stays the first one's.
func (b *Baths) opened(e Entry) {
	if s := b.stock(e.Bottle); s != nil && s.Opened.Equal(e.At) {
		return // a line that a merge doubled
	}
	if b.bottle(e.Bottle) != nil || b.stock(e.Bottle) != nil || e.Part == "" || !(e.Volume > 0) {
		b.Bad++
		return
	}
	b.Stock = append(b.Stock, Stock{Name: e.Bottle, Part: e.Part, Opened: e.At, Of: e.Volume, Left: e.Volume})
}

func (b *Baths) stock(name string) *Stock {
	for i := range b.Stock {
		if b.Stock[i].Name == name {
			return &b.Stock[i]
		}
	}
	return nil
}

// drawn takes in what was done with a bottle of stock.
func (s *Stock) drawn(e Entry) (ok bool) {
	switch {
	case e.Did == Drawn && e.Volume > 0:
		s.Left = max(0, s.Left-e.Volume)
		if e.Session != "" {
			s.Sessions = append(s.Sessions, e.Session)
		}
	case e.Did == ThrownAway:
		if s.ThrownAway == nil {
			s.ThrownAway = &e.At
		}
	default:
		return false
	}
	return true
}

// Drawing is what draws come to in the ledger: one entry a bottle.
func Drawing(draws []sequence.Draw, at time.Time, session string) []Entry {
	var entries []Entry
	for _, d := range draws {
		i := slices.IndexFunc(entries, func(e Entry) bool { return e.Bottle == d.Bottle })
		switch {
		case d.Volume <= 0:
		case i >= 0:
			entries[i].Volume += d.Volume
		default:
			entries = append(entries, Entry{At: at, Did: Drawn, Bottle: d.Bottle, Session: session, Volume: d.Volume})
		}
	}
	return entries
}

// drew is what a session that is over took from the stock: for each bath mixed fresh
// into which film came.
func (s *Session) drew() []sequence.Draw {
	return slices.DeleteFunc(s.Plan.Draws(), func(d sequence.Draw) bool {
		return !slices.ContainsFunc(s.Steps, func(st Step) bool { return st.Plan.Bath == d.Bath && len(st.Sheets) > 0 })
	})
}
