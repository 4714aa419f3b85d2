package app

// The ledger of baths kept, joined to the rest: where it lies, what a plan draws
// on, and how a session that is over books itself.

import (
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// baths reads the ledger, after the sessions that are over have booked themselves:
// one that was cut off between its end and its booking does so now.
func (p *Env) ReadBottles() (bottles.Inventory, error) {
	b, err := BottleLedger().Read()
	if err != nil || len(b.OpenBottles())+len(b.StockOpen()) == 0 {
		return b, err
	}
	store := journal.Default()
	booked := false
	for _, s := range notebook.List(store) {
		missing := func(bottle string) bool {
			return b.Has(bottle) && !b.HasBooking(s.ID, bottle)
		}
		if s.Rehearsal || s.Ended == nil || !slices.ContainsFunc(s.Bottles, missing) {
			continue
		}
		if err := p.bookInto(b, s.ID); err != nil {
			return b, err
		}
		booked = true
	}
	if booked {
		return BottleLedger().Read()
	}
	return b, nil
}

// bookInto writes what a session that is over did to its bottles, once: what stands in
// the ledger already is left out, and would not count twice.
func (p *Env) bookInto(b bottles.Inventory, id string) error {
	s, err := notebook.Open(journal.Default(), id)
	if err != nil {
		return err
	}
	entries := slices.DeleteFunc(bottles.Bookings(&s), func(e bottles.Entry) bool { return b.HasBooking(id, e.Bottle) })
	return BottleLedger().Write(entries...)
}

// BookSession books a session that has just come to its end.
func (p *Env) BookSession(plan *sequence.Plan, id string) {
	if len(plan.Conditions.OpenBottles)+len(plan.Conditions.Stock) == 0 {
		return
	}
	b, err := BottleLedger().Read()
	if err == nil {
		err = p.bookInto(b, id)
	}
	if err != nil {
		p.PrintError(err)
	}
}

// inHand are the bottles; none where the ledger cannot be read, which is said.
func (p *Env) inHand() bottles.Inventory {
	b, err := p.ReadBottles()
	if err != nil {
		p.PrintError(err)
		return bottles.Inventory{}
	}
	return b
}

// BottlesFor are the bottles that a recipe can draw on. Where the ledger cannot be read the plan
// is made with fresh baths.
func (p *Env) BottlesFor(r sequence.Recipe) []sequence.OpenBottle {
	b := p.inHand()
	if len(b.OpenBottles()) == 0 {
		return nil
	}
	return b.ForRecipe(r, p.Clock.Read().Wall)
}

// IsPlainWater reports whether a bath is not worth a bottle.
func IsPlainWater(b sequence.Bath) bool {
	return len(b.Parts) == 0 || len(b.Parts) == 1 && strings.EqualFold(b.Parts[0].Name, "water")
}

// SwapBottles writes that the first is retired and the second serves in its place.
func (p *Env) SwapBottles(first, second bottles.Bottle) error {
	at := p.Clock.Read().Wall
	return BottleLedger().Write(bottles.Entry{At: at, Action: bottles.Retired, Bottle: first.Name},
		bottles.Entry{At: at, Action: bottles.Serves, Bottle: second.Name, Serves: first.Bath.ID})
}

// StockInHand is the stock.
func (p *Env) StockInHand() []sequence.Stock { return p.inHand().StockOpen() }
