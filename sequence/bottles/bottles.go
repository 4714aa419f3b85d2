package bottles

// Bottles, as the ledger's entries make them, and what a session writes into it.

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Inventory are all bottles of the ledger.
type Inventory struct {
	Bottles    []Bottle      // in the order in which they were mixed
	Stock      []StockBottle // of parts, in the order in which they were opened
	Unreadable int           // lines that cannot be read, or belong to no bottle
}

// Bottle is one bath kept.
type Bottle struct {
	Name          string
	Bath          sequence.Bath // what is in it; its ID is the bath that it serves as
	Mixed         time.Time
	Retired       *time.Time // nil while it stands open
	Area          float64    // square inches of film that it has processed, one side
	AreaBehind    float64    // that another fixer had fixed before, on which it counts
	Sessions      []string   // that it served, each once
	FreshClearing sequence.Elapsed
	Clearing      sequence.Elapsed     // the last measured, as at 20 °C; Fresh: before its first film
	ClearedArea   float64              // square inches that it had processed then
	Replenished   sequence.Millilitres // replenisher that was added so far
	SilverTest    *time.Time           // when film fixed in it was last tested for silver; nil for never
	SilverLeft    bool                 // and whether some was left
}

// referenceArea of a sheet of 4x5in, in which capacity is counted.
const referenceArea = 20

// Sheets is what it has processed, in sheets of 4x5in.
func (b Bottle) Sheets() float64 { return b.Area / referenceArea }

// ParseReplenisher reads how much replenisher was added, as a person types it: above zero.
func ParseReplenisher(text string) (sequence.Millilitres, error) {
	v, err := chem.ParseMillilitres(text)
	if err == nil && v <= 0 {
		err = fmt.Errorf("%q; expected above zero", text)
	}
	return v, err
}

// ReplenisherOwed is how much it wants now by its recipe's reuse; 0 for none.
func (b Bottle) ReplenisherOwed() sequence.Millilitres {
	if b.Bath.Reuse == nil {
		return 0
	}
	return b.Bath.Reuse.Owed(b.Sheets(), b.Replenished)
}

// IsFresh reports whether no film came into it yet.
func (b Bottle) IsFresh() bool { return b.Area == 0 && b.AreaBehind == 0 }

// SheetsBehind is what it fixed behind another fixer, in sheets of 4x5in.
func (b Bottle) SheetsBehind() float64 { return b.AreaBehind / referenceArea }

// reference is the temperature for which clearing times are compared: from 68 °F up nothing slows a fixer
// (TM 11-2323 para 33c).
const reference sequence.Celsius = 20

// clocksDiffer is by how much the clocks of two laptops, or one before and after it was
// set, may differ unremarked (our own rule): what was mixed this minute is new.
const clocksDiffer = time.Minute

// OpenBottle is the bottle as a plan draws on it.
func (b Bottle) OpenBottle(now time.Time) sequence.OpenBottle {
	age := now.Sub(b.Mixed)
	if age < 0 && age > -clocksDiffer {
		age = 0
	}
	return sequence.OpenBottle{Bath: b.Bath.ID, Bottle: b.Name, Age: age, WorkingLife: b.Bath.WorkingLife, Volume: b.Bath.Volume,
		SheetsPerLitre: b.Bath.MostPerLitre(), SheetsDone: b.Sheets(), FreshClearing: b.FreshClearing, Clearing: b.Clearing,
		ClearedSheets: b.ClearedArea / referenceArea, Replenished: b.Replenished, SilverLeft: b.SilverLeft}
}

// OpenBottles lists the bottles that stand open, in the order in which they were mixed.
func (b Inventory) OpenBottles() []Bottle {
	return slices.DeleteFunc(slices.Clone(b.Bottles), func(c Bottle) bool { return c.Retired != nil })
}

// ForRecipe lists the bottles that a recipe can draw on: for each of its baths those that are
// open, serve as that bath and hold the same parts, the one mixed last first.
func (b Inventory) ForRecipe(r sequence.Recipe, now time.Time) []sequence.OpenBottle {
	var kept []sequence.OpenBottle
	open := b.OpenBottles()
	for _, bath := range r.Baths {
		for _, c := range slices.Backward(open) {
			if c.Bath.ID == bath.ID && sameMix(c.Bath, bath) {
				kept = append(kept, c.OpenBottle(now))
			}
		}
	}
	return kept
}

// Successor is the bottle that takes another's place once that is spent, as the second of
// two fixing baths does: it is open, of the same mix, serves as another bath and has done no more; of
// several the one mixed last.
func (b Inventory) Successor(first Bottle) (Bottle, bool) {
	for _, c := range slices.Backward(b.OpenBottles()) {
		if c.Bath.ID != first.Bath.ID && c.Area <= first.Area && sameMix(c.Bath, first.Bath) {
			return c, true
		}
	}
	return Bottle{}, false
}

// sameMix reports whether two baths are mixed in the same proportions.
func sameMix(a, b sequence.Bath) bool {
	share := func(x sequence.Bath, i int) float64 {
		sum := 0.0
		for _, p := range x.Parts {
			sum += p.Parts
		}
		return x.Parts[i].Parts / sum
	}
	if len(a.Parts) != len(b.Parts) {
		return false
	}
	for i := range a.Parts {
		d := share(a, i) - share(b, i)
		if a.Parts[i].Name != b.Parts[i].Name || d > 1e-9 || d < -1e-9 {
			return false
		}
	}
	return true
}

// OpenBottleNamed is the open bottle called so, or the only one whose name begins so.
func (b Inventory) OpenBottleNamed(name string) (Bottle, error) {
	open, nameOf := b.OpenBottles(), func(c Bottle) string { return c.Name }
	switch found := ByNameOrPrefix(open, nameOf, name); {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return Bottle{}, fmt.Errorf("bottle %q: %d open bottles begin like that; expected %s", name, len(found), sequence.OneOf(Names(found, nameOf)))
	case len(open) == 0:
		return Bottle{}, fmt.Errorf("bottle %q: none is open; wetside bottles open opens one", name)
	}
	return Bottle{}, fmt.Errorf("bottle %q: no open bottle of that name; expected %s", name, sequence.OneOf(Names(open, nameOf)))
}

// IsOpen reports whether exactly one bottle of a bath is meant by a name.
func (b Inventory) IsOpen(name string) bool {
	_, err := b.OpenBottleNamed(name)
	return err == nil
}

// NewName is a name for a bottle of a bath mixed on a day, to be written on it.
func (b Inventory) NewName(bath string, day time.Time) string {
	base := journal.FileName(bath) + "-" + day.Format(time.DateOnly)
	name := base
	for n := 2; n <= mostBottles && b.Has(name); n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	return name
}

// HasBooking reports whether a session stands in a bottle's account.
func (b Inventory) HasBooking(session, bottle string) bool {
	if s := b.stock(bottle); s != nil {
		return slices.Contains(s.Sessions, session)
	}
	c := b.bottle(bottle)
	return c != nil && slices.Contains(c.Sessions, session)
}

// Has reports whether a bottle of that name, of a bath or of stock, was ever there.
func (b Inventory) Has(bottle string) bool { return b.bottle(bottle) != nil || b.stock(bottle) != nil }

// mix opens a bottle. A name that is taken stays the first one's.
func (b *Inventory) mix(e Entry) {
	switch known := b.bottle(e.Bottle); {
	case known == nil && e.Bath != nil:
		b.Bottles = append(b.Bottles, Bottle{Name: e.Bottle, Bath: *e.Bath, Mixed: e.At})
	case known == nil || !known.Mixed.Equal(e.At):
		b.Unreadable++
	}
}

func (b *Inventory) bottle(name string) *Bottle {
	for i := range b.Bottles {
		if b.Bottles[i].Name == name {
			return &b.Bottles[i]
		}
	}
	return nil
}

// take takes in what was done with a bottle.
func (b *Inventory) take(e Entry) {
	if s := b.stock(e.Bottle); s != nil && s.apply(e) {
		return
	}
	c := b.bottle(e.Bottle)
	if c == nil {
		b.Unreadable++
		return
	}
	switch {
	case e.Action == Used && e.Area > 0:
		if e.Behind {
			c.AreaBehind += e.Area
		} else {
			c.Area += e.Area
		}
		if e.Session != "" {
			c.Sessions = append(c.Sessions, e.Session)
		}
	case e.Action == Cleared && e.Clearing > 0:
		took := e.Clearing
		if e.Test != nil {
			took = chem.ClearingAt(took, *e.Test, reference)
		}
		if c.IsFresh() && c.FreshClearing == 0 {
			c.FreshClearing = took
		}
		c.Clearing, c.ClearedArea = took, c.Area
	case e.Action == Replenished && e.Volume > 0:
		c.Replenished += e.Volume
	case e.Action == Silver:
		c.SilverTest, c.SilverLeft = &e.At, !e.Passed
	case e.Action == Serves && e.Serves != "":
		c.Bath.ID = e.Serves
	case e.Action == Retired:
		c.Retired = cmp.Or(c.Retired, &e.At)
	default:
		b.Unreadable++
	}
}
