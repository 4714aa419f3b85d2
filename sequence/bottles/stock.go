package bottles

// Stock in hand: bottles of one part each, from which baths are mixed.

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// StockBottle is a bottle of one part.
type StockBottle struct {
	Name, Part string
	Opened     time.Time
	Full, Left sequence.Millilitres
	Sessions   []string   // that drew on it, each once
	Retired    *time.Time // nil while it stands on the shelf
}

// StockOpen lists the bottles of stock that are there, the one opened first first: that one
// is used up first.
func (b Inventory) StockOpen() []sequence.Stock {
	var list []sequence.Stock
	for _, s := range b.Stock {
		if s.Retired == nil {
			list = append(list, sequence.Stock{Part: s.Part, Bottle: s.Name, Left: s.Left, Opened: s.Full})
		}
	}
	return list
}

// StockNamed is the bottle of stock called so, or the only one whose name begins so.
func (b Inventory) StockNamed(name string) (StockBottle, error) {
	stands := slices.DeleteFunc(slices.Clone(b.Stock), func(s StockBottle) bool { return s.Retired != nil })
	nameOf := func(s StockBottle) string { return s.Name }
	if found := ByNameOrPrefix(stands, nameOf, name); len(found) == 1 {
		return found[0], nil
	}
	return StockBottle{}, fmt.Errorf("stock %q: expected %s", name, sequence.OneOf(Names(stands, nameOf)))
}

// openStock puts a bottle of stock on the shelf. A name that is taken stays the first one's.
func (b *Inventory) openStock(e Entry) {
	if s := b.stock(e.Bottle); s != nil && s.Opened.Equal(e.At) {
		return // a line that a merge doubled
	}
	if b.Has(e.Bottle) || e.Part == "" || !(e.Volume > 0) {
		b.Unreadable++
		return
	}
	b.Stock = append(b.Stock, StockBottle{Name: e.Bottle, Part: e.Part, Opened: e.At, Full: e.Volume, Left: e.Volume})
}

func (b *Inventory) stock(name string) *StockBottle {
	for i := range b.Stock {
		if b.Stock[i].Name == name {
			return &b.Stock[i]
		}
	}
	return nil
}

// apply takes in what was done with a bottle of stock.
func (s *StockBottle) apply(e Entry) (ok bool) {
	switch {
	case e.Action == Drawn && e.Volume > 0:
		s.Left = max(0, s.Left-e.Volume)
		if e.Session != "" {
			s.Sessions = append(s.Sessions, e.Session)
		}
	case e.Action == Retired:
		s.Retired = cmp.Or(s.Retired, &e.At)
	default:
		return false
	}
	return true
}
