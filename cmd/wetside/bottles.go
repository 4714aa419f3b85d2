package main

// The ledger of baths kept, joined to the rest: where it lies, what a plan draws
// on, and how a session that is over books itself.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// ledger is this laptop's.
func ledger() notebook.Ledger {
	return notebook.Ledger{Folder: dataFolder("baths"), Laptop: laptopName()}
}

// baths reads the ledger, after the sessions that are over have booked themselves:
// one that was cut off between its end and its booking does so now.
func (p *program) readBaths() (notebook.Baths, error) {
	b, err := ledger().Read()
	if err != nil || len(b.Open())+len(b.InHand()) == 0 {
		return b, err
	}
	store := journal.Default()
	booked := false
	for _, s := range notebook.List(store) {
		missing := func(bottle string) bool {
			return b.Has(bottle) && !b.Booked(s.ID, bottle)
		}
		if s.Rehearsal || s.Ended == nil || !slices.ContainsFunc(s.Bottles, missing) {
			continue
		}
		if err := p.book(b, s.ID); err != nil {
			return b, err
		}
		booked = true
	}
	if booked {
		return ledger().Read()
	}
	return b, nil
}

// book writes what a session that is over did to its bottles, once: what stands in
// the ledger already is left out, and would not count twice.
func (p *program) book(b notebook.Baths, id string) error {
	s, err := notebook.Open(journal.Default(), id)
	if err != nil {
		return err
	}
	entries := slices.DeleteFunc(s.Bookings(), func(e notebook.Entry) bool { return b.Booked(id, e.Bottle) })
	return ledger().Write(entries...)
}

// bookNow books a session that has just come to its end.
func (p *program) bookNow(plan *sequence.Plan, id string) {
	if len(plan.Conditions.Kept)+len(plan.Conditions.InHand) == 0 {
		return
	}
	b, err := ledger().Read()
	if err == nil {
		err = p.book(b, id)
	}
	if err != nil {
		p.complain(err)
	}
}

// keptFor are the bottles that a recipe can draw on. Where the ledger cannot be read that is
// said, and the plan is made with fresh baths.
func (p *program) keptFor(r sequence.Recipe) []sequence.Kept {
	b, err := p.readBaths()
	if err != nil {
		p.complain(err)
		return nil
	}
	if len(b.Open()) == 0 {
		return nil
	}
	return b.For(r, p.source.Read().Wall)
}
