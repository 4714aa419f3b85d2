package notebook

// Bottles, as the ledger's entries make them, and what a session writes into it.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// Baths are all bottles of the ledger.
type Baths struct {
	Bottles []Bottle // in the order in which they were mixed
	Stock   []Stock  // of parts, in the order in which they were opened
	Bad     int      // lines that cannot be read, or belong to no bottle
}

// Bottle is one bath kept.
type Bottle struct {
	Name       string
	Bath       sequence.Bath // what is in it; its ID is the bath that it serves as
	Mixed      time.Time
	ThrownAway *time.Time // nil while it stands open
	Area       float64    // square inches of film that it has processed, one side
	Sessions   []string   // that it served, each once
	Fresh      sequence.Elapsed
	Clearing   sequence.Elapsed // the last measured; Fresh: before its first film
}

// squareInches of a sheet of 4x5in, in which capacity is counted.
const squareInches = 20

// Sheets is what it has processed, in sheets of 4x5in.
func (b Bottle) Sheets() float64 { return b.Area / squareInches }

// clocksDiffer is by how much the clocks of two laptops, or one before and after it was
// set, may differ unremarked (our own rule): what was mixed this minute is new.
const clocksDiffer = time.Minute

// Kept is the bottle as a plan draws on it.
func (b Bottle) Kept(now time.Time) sequence.Kept {
	age := now.Sub(b.Mixed)
	if age < 0 && age > -clocksDiffer {
		age = 0
	}
	return sequence.Kept{Bath: b.Bath.ID, Bottle: b.Name, Age: age, Keeps: b.Bath.TrayLife, Volume: b.Bath.Volume,
		SheetsPerLitre: b.Bath.SheetsPerLitre, Done: b.Sheets(), Fresh: b.Fresh, Clearing: b.Clearing}
}

// Open lists the bottles that stand open, in the order in which they were mixed.
func (b Baths) Open() []Bottle {
	var open []Bottle
	for _, c := range b.Bottles {
		if c.ThrownAway == nil {
			open = append(open, c)
		}
	}
	return open
}

// For lists the bottles that a recipe can draw on: for each of its baths those that are
// open, serve as that bath and hold the same parts, the one mixed last first.
func (b Baths) For(r sequence.Recipe, now time.Time) []sequence.Kept {
	var kept []sequence.Kept
	open := b.Open()
	for _, bath := range r.Baths {
		for _, c := range slices.Backward(open) {
			if c.Bath.ID == bath.ID && sameMix(c.Bath, bath) {
				kept = append(kept, c.Kept(now))
			}
		}
	}
	return kept
}

// Behind is the bottle that takes another's place once that is spent, as the second of
// two fixing baths does: it is open, of the same mix and serves as another bath; of
// several the one mixed last.
func (b Baths) Behind(first Bottle) (Bottle, bool) {
	for _, c := range slices.Backward(b.Open()) {
		if c.Bath.ID != first.Bath.ID && sameMix(c.Bath, first.Bath) {
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

// Named is the open bottle called so, or the only one whose name begins so.
func (b Baths) Named(name string) (Bottle, error) {
	open, nameOf := b.Open(), func(c Bottle) string { return c.Name }
	switch found := sequence.Called(open, nameOf, name); {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return Bottle{}, fmt.Errorf("bottle %q: %d open bottles begin so; expected one of %q", name, len(found), sequence.Names(found, nameOf))
	case len(open) == 0:
		return Bottle{}, fmt.Errorf("bottle %q: none is open; wetside baths mix opens one", name)
	}
	return Bottle{}, fmt.Errorf("bottle %q: none open is called so; expected one of %q", name, sequence.Names(open, nameOf))
}

// Stands reports whether exactly one bottle of a bath is meant by a name.
func (b Baths) Stands(name string) bool {
	_, err := b.Named(name)
	return err == nil
}

// NewName is a name for a bottle of a bath mixed on a day, to be written on it.
func (b Baths) NewName(bath string, day time.Time) string {
	base := slug(bath) + "-" + day.Format(time.DateOnly)
	name := base
	for n := 2; n <= mostBottles && (b.bottle(name) != nil || b.stock(name) != nil); n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	return name
}

// Booked reports whether a session stands in a bottle's account.
func (b Baths) Booked(session, bottle string) bool {
	if s := b.stock(bottle); s != nil {
		return slices.Contains(s.Sessions, session)
	}
	c := b.bottle(bottle)
	return c != nil && slices.Contains(c.Sessions, session)
}

// Has reports whether a bottle of that name, of a bath or of stock, was ever there.
func (b Baths) Has(bottle string) bool { return b.bottle(bottle) != nil || b.stock(bottle) != nil }

// mix opens a bottle. A name that is taken stays the first one's.
func (b *Baths) mix(e Entry) {
	switch known := b.bottle(e.Bottle); {
	case known == nil && e.Bath != nil:
		b.Bottles = append(b.Bottles, Bottle{Name: e.Bottle, Bath: *e.Bath, Mixed: e.At})
	case known == nil || !known.Mixed.Equal(e.At):
		b.Bad++
	}
}

func (b *Baths) bottle(name string) *Bottle {
	for i := range b.Bottles {
		if b.Bottles[i].Name == name {
			return &b.Bottles[i]
		}
	}
	return nil
}

// take takes in what was done with a bottle.
func (b *Baths) take(e Entry) {
	if s := b.stock(e.Bottle); s != nil && s.drawn(e) {
		return
	}
	c := b.bottle(e.Bottle)
	if c == nil {
		b.Bad++
		return
	}
	switch {
	case e.Did == Used && e.Area > 0:
		c.Area += e.Area
		if e.Session != "" {
			c.Sessions = append(c.Sessions, e.Session)
		}
	case e.Did == Cleared && e.Clearing > 0:
		if c.Area == 0 && c.Fresh == 0 {
			c.Fresh = e.Clearing
		}
		c.Clearing = e.Clearing
	case e.Did == Serves && e.Serves != "":
		c.Bath.ID = e.Serves
	case e.Did == ThrownAway:
		if c.ThrownAway == nil {
			c.ThrownAway = &e.At
		}
	default:
		b.Bad++
	}
}

// Bookings is what a session that is over writes into the ledger: for each bottle
// that its plan drew on, the film that came into that bath; for each bottle of stock what
// the baths mixed fresh took. A rehearsal, and a
// session that is open, write nothing.
func (s *Session) Bookings() []Entry {
	if s.Rehearsal || s.Plan == nil || s.Ended == nil {
		return nil
	}
	var entries []Entry
	for _, k := range s.Plan.Conditions.Kept {
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
			entries = append(entries, Entry{At: *s.Ended, Did: Used, Bottle: k.Bottle, Session: s.ID, Area: area})
		}
	}
	return append(entries, Drawing(s.drew(), *s.Ended, s.ID)...)
}

// Facts is how a bottle stands, in words: age, what it has done, what is left.
func (b Bottle) Facts(now time.Time) []string {
	k := b.Kept(now)
	list := []string{b.age(k)}
	room, known := k.Room()
	done := fmt.Sprintf("%.4g sheets of 4x5in (%.4g sq in) done", b.Sheets(), b.Area)
	switch {
	case b.Bath.OneShot && b.Area > 0:
		done += ", SPENT: it was for one session"
	case known && b.Sheets() >= room:
		done += fmt.Sprintf(", SPENT: it serves %.4g", room)
	case known:
		done += fmt.Sprintf(", %.4g left", room-b.Sheets())
	case b.Area > 0:
		done += ", nobody has said how many it serves"
	}
	list = append(list, done)
	switch {
	case b.Clearing > 0 && b.Fresh > 0:
		text := fmt.Sprintf("clears in %s, fresh %s", sequence.Clock(b.Clearing), sequence.Clock(b.Fresh))
		if b.Clearing >= 2*b.Fresh {
			text += ", SPENT"
		}
		list = append(list, text)
	case b.Clearing > 0:
		list = append(list, "clears in "+sequence.Clock(b.Clearing))
	}
	if b.ThrownAway != nil {
		list = append(list, "thrown away")
	}
	return list
}

// age is how old it is, and how long it keeps.
func (b Bottle) age(k sequence.Kept) string {
	switch {
	case k.Age < 0:
		return "mixed in the future by this clock: is it right?"
	case k.Keeps == 0:
		return sequence.LongTime(k.Age) + " old"
	case k.Age > k.Keeps:
		return fmt.Sprintf("%s old, STALE: it keeps %s", sequence.LongTime(k.Age), sequence.LongTime(k.Keeps))
	}
	return fmt.Sprintf("%s old, keeps %s", sequence.LongTime(k.Age), sequence.LongTime(k.Keeps))
}
