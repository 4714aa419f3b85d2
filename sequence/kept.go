package sequence

// Baths that stand ready: what a bottle mixed before, and perhaps used, means for
// a plan. Spent and stale baths are told before film is wet.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
)

// Kept is a bath that stands ready in a bottle, as it was when the plan was made.
type Kept struct {
	Bath           string           `json:"bath"`   // id of the recipe's bath that it serves as
	Bottle         string           `json:"bottle"` // what is written on it
	Age            Elapsed          `json:"age_s"`  // since it was mixed; negative where the clock was set back
	Keeps          Elapsed          `json:"keeps_s,omitzero"`
	Volume         chem.Millilitres `json:"volume_ml,omitzero"`
	SheetsPerLitre float64          `json:"sheets_per_litre,omitzero"` // of 20 square inches each
	Done           float64          `json:"done_sheets,omitzero"`      // sheets of 20 square inches that it has processed
	Fresh          Elapsed          `json:"fresh_clearing_s,omitzero"` // clearing time before its first use; 0 where not known
	Clearing       Elapsed          `json:"clearing_s,omitzero"`       // the last one measured
}

// LongestClearing is when a clearing test is given up: such a fixer is of no use (our
// own rule).
const LongestClearing = 10 * time.Minute

// Room is how many sheets of 20 square inches the bath takes in all; false where
// nobody has said.
func (k Kept) Room() (float64, bool) {
	return float64(k.Volume) / 1000 * k.SheetsPerLitre, k.Volume > 0 && k.SheetsPerLitre > 0
}

// Story is how old the bath is and what it has done, in a few words.
func (k Kept) Story() string {
	if k.Age < 0 {
		return "mixed in the future by this clock, " + fourByFives(k.Done) + " done"
	}
	return "mixed " + LongTime(k.Age) + " ago, " + fourByFives(k.Done) + " done"
}

// Draw chooses from the bottles that could serve, of each bath the one mixed last
// first: that one, or the one that the words name by its name or by enough of its
// beginning. It errs, as a WordError, for a name that is none of theirs or is two.
func (w Words) Draw(could []Kept) ([]Kept, error) {
	if w.Baths == FreshBaths {
		return nil, nil
	}
	var kept []Kept
	take := func(k Kept) bool {
		if slices.ContainsFunc(kept, func(o Kept) bool { return o.Bath == k.Bath }) {
			return false
		}
		kept = append(kept, k)
		return true
	}
	if w.Baths != "" && w.Baths != KeptBaths {
		for name := range strings.SplitSeq(w.Baths, ",") {
			k, err := bottleOf(could, strings.TrimSpace(name))
			if err == nil && !take(k) {
				err = fmt.Errorf("%q: another bottle serves as %q already; expected one for each bath", name, k.Bath)
			}
			if err != nil {
				return nil, WordError{"baths", err}
			}
		}
	}
	for _, k := range could {
		take(k)
	}
	return kept, nil
}

// bottleOf is the bottle called so, or the only one whose name begins so.
func bottleOf(could []Kept, name string) (Kept, error) {
	nameOf := func(k Kept) string { return k.Bottle }
	if found := Called(could, nameOf, name); len(found) == 1 {
		return found[0], nil
	}
	return Kept{}, fmt.Errorf("%q; expected one of %q", name, append([]string{KeptBaths, FreshBaths}, Names(could, nameOf)...))
}

// Called are those of a list that a name may mean: the one of that name, or all whose
// names begin so.
func Called[T any](list []T, nameOf func(T) string, name string) []T {
	var found []T
	for _, one := range list {
		if nameOf(one) == name {
			return []T{one}
		}
		if name != "" && strings.HasPrefix(nameOf(one), name) {
			found = append(found, one)
		}
	}
	return found
}

// Names are the names of a list, in its order.
func Names[T any](list []T, nameOf func(T) string) []string {
	var names []string
	for _, one := range list {
		names = append(names, nameOf(one))
	}
	return names
}

// FixTimes is what the bath's clearing time means for fixing, in words; "" where none
// was measured.
func (k Kept) FixTimes() string {
	one, _, err := chem.FixTime(k.Clearing, 1, false)
	two, _, _ := chem.FixTime(k.Clearing, 2, false)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("fix for %s, or %s in each of two baths; a tabular emulsion half as long again", chem.FormatDuration(one), chem.FormatDuration(two))
}

// Bottle is the bottle that serves as a bath; false where it is mixed fresh.
func (p *Plan) Bottle(bath string) (Kept, bool) {
	for _, k := range p.Conditions.Kept {
		if k.Bath == bath {
			return k, true
		}
	}
	return Kept{}, false
}

// MostLife is the working life that no bottle of a bath outlives, whatever is written on
// it: the recipe's, of what is mixed for one session. 0 for none.
func (b *Bath) MostLife() Elapsed {
	if b.OneShot {
		return b.TrayLife
	}
	return 0
}

// Takes is what the plan's sheets take of what a kept bath can still serve, in words; ""
// for one that is mixed fresh, or where nobody has said how many it serves.
func (p *Plan) Takes(b *Bath) string {
	k := p.kept(b)
	if k == nil {
		return ""
	}
	room, known := k.Room()
	if !known {
		return ""
	}
	need, left := float64(p.Sheets)*p.Recipe.Load.Size.SquareInches()/chem.SheetArea, max(0, room-k.Done)
	line := fmt.Sprintf("takes %.4g of the %s that it still serves", need, fourByFives(left))
	if need > left+1e-9 {
		line += fmt.Sprintf(", SHORT by %.4g", need-left)
	}
	return line
}

// kept is the bottle that serves as a bath, with what the recipe says where the
// bottle does not; nil where it is mixed fresh.
func (p *Plan) kept(b *Bath) *Kept {
	k, ok := p.Bottle(b.ID)
	if !ok {
		return nil
	}
	k.Keeps = cmp.Or(k.Keeps, b.TrayLife)
	if most := b.MostLife(); most > 0 {
		k.Keeps = min(k.Keeps, most)
	}
	k.Volume = cmp.Or(k.Volume, b.Volume)
	k.SheetsPerLitre = cmp.Or(k.SheetsPerLitre, b.SheetsPerLitre)
	return &k
}

// Stock that is needed, in words, for a bath mixed fresh and for a kept one.
func (w *wary) stock(b *Bath, k *Kept) {
	volume, sheets := b.Volume, float64(w.p.Sheets)*w.area()/chem.SheetArea
	if k != nil {
		volume = k.Volume
		if !b.OneShot {
			sheets += k.Done // the same stock has served those already
		}
	}
	have, known := chem.StockIn(b.Parts, volume)
	need, asked := chem.StockFor(1, sheets*chem.SheetArea, b.StockPerSheet)
	if known != nil || asked != nil || have >= need {
		return
	}
	served := ""
	if k != nil && k.Done > 0 && !b.OneShot {
		served = ", with those that it has served"
	}
	w.add(Danger, "stock-short", "%s: %.3g ml of %s for %d sheets%s; expected at least %.3g ml", b.ID, float64(have), b.Parts[0].Name, w.p.Sheets, served, float64(need))
}

// room looks at how much film a bath has done and can still do.
func (w *wary) room(b *Bath, k *Kept) {
	p, format := w.p, w.p.Recipe.Load.Size.Name
	if k == nil {
		if room, err := chem.Capacity(b.Volume, b.SheetsPerLitre, w.area()); err == nil && p.Sheets > room {
			w.add(Care, "capacity", "%s: %.4g ml serves %d sheets of %s; these are %d", b.ID, float64(b.Volume), room, format, p.Sheets)
		}
		return
	}
	room, known := k.Room()
	now := float64(p.Sheets) * w.area() / chem.SheetArea
	const grain = 1e-9 // litres times sheets a litre
	switch {
	case b.OneShot && k.Done > 0:
		w.add(Danger, "spent", "%s (%s): meant for one session, and has had it", b.ID, k.Bottle)
	case !known && k.Done > 0:
		w.add(Note, "capacity-unknown", "%s (%s): has done %s; nobody has said how many it serves", b.ID, k.Bottle, fourByFives(k.Done))
	case !known:
	case k.Done >= room-grain:
		w.add(Danger, "spent", "%s (%s): spent: has done %s of the %.4g that it serves", b.ID, k.Bottle, fourByFives(k.Done), room)
	case k.Done+now > room+grain:
		w.add(Care, "capacity", "%s (%s): has done %s and serves %.4g; these count as %.4g", b.ID, k.Bottle, fourByFives(k.Done), room, now)
	case k.Done >= room/2-grain:
		w.add(Care, "half-spent", "%s (%s): half spent: has done %s of the %.4g that it serves", b.ID, k.Bottle, fourByFives(k.Done), room)
	}
}

// fills looks at whether a bottle holds what the recipe fills its vessel with.
func (w *wary) fills(b *Bath, k *Kept) {
	if k != nil && k.Volume < b.Volume {
		w.add(Care, "volume-short", "%s (%s): the bottle holds %.4g ml, and the recipe fills %.4g ml", b.ID, k.Bottle, float64(k.Volume), float64(b.Volume))
	}
}

// life looks at how long a bath keeps.
func (w *wary) life(b *Bath, k *Kept) {
	last := w.p.lastUse(b.ID)
	switch {
	case k == nil && b.TrayLife > 0 && last > b.TrayLife:
		w.add(Danger, "stale", "%s: used until %s, keeps for %s once mixed", b.ID, chem.FormatDuration(last), chem.FormatDuration(b.TrayLife))
	case k == nil:
	case k.Age < 0:
		w.add(Care, "clock", "%s (%s): mixed %s from now by this clock; how old it is cannot be told", b.ID, k.Bottle, chem.FormatDuration(-k.Age))
	case k.Keeps > 0 && k.Age+last > k.Keeps:
		w.add(Danger, "stale", "%s (%s): stale: mixed %s ago and used until %s, keeps for %s once mixed",
			b.ID, k.Bottle, LongTime(k.Age), chem.FormatDuration(last), LongTime(k.Keeps))
	}
}

// clears looks at a fixer's clearing times.
func (w *wary) clears(b *Bath, k *Kept) {
	if k != nil && chem.FixerSpent(k.Fresh, k.Clearing) {
		w.add(Danger, "spent", "%s (%s): spent: clears in %s, fresh it took %s (NAVEDTRA 14209 p. 249)",
			b.ID, k.Bottle, chem.FormatDuration(k.Clearing), chem.FormatDuration(k.Fresh))
	}
	if k == nil || k.Clearing == 0 {
		return
	}
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		if need := w.p.fixedFor(i, k.Clearing); st.Bath == b.ID && st.Kind == Fix && st.Dose < need {
			w.add(Care, "short-fix", "%s: %s in %s (%s), which clears in %s: that takes %s (NAVEDTRA 14209 p. 249)", st.Name,
				chem.FormatDuration(st.Dose), b.ID, k.Bottle, chem.FormatDuration(k.Clearing), chem.FormatDuration(need))
		}
	}
}

func (w *wary) area() float64 { return w.p.Recipe.Load.Size.SquareInches() }

// fourByFives counts film in sheets of 20 square inches.
func fourByFives(n float64) string { return fmt.Sprintf("%.4g sheets of 4x5in", n) }

// LongTime writes how long a bath has stood or keeps: whole days from two on.
func LongTime(d Elapsed) string {
	const day = 24 * time.Hour
	if d < 2*day {
		return chem.FormatDuration(d.Truncate(time.Second))
	}
	return fmt.Sprintf("%d days", d/day)
}

// OfBaths are the plan's cautions about baths that stand ready, gravest first.
func (p *Plan) OfBaths() []Caution {
	codes := []string{"stale", "spent", "half-spent", "capacity", "capacity-unknown", "stock-short", "stock-lacking", "volume-short", "short-fix", "clock"}
	var list []Caution
	for _, c := range p.Cautions {
		if len(p.Conditions.Kept)+len(p.Conditions.InHand) > 0 && slices.Contains(codes, c.Code) {
			list = append(list, c)
		}
	}
	return list
}
