package planning

// Baths that stand ready: what a bottle mixed before, and perhaps used, means for
// a plan. Spent and stale baths are told before film is wet.

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// MostLife is the working life that no bottle of a bath outlives, whatever is written on
// it: the recipe's, of what is mixed for one session. 0 for none.
func MostLife(b *sequence.Bath) sequence.Elapsed {
	if b.OneShot {
		return b.WorkingLife
	}
	return 0
}

// CapacityUsed is what the plan's sheets take of what a kept bath can still serve, in words; ""
// for one that is mixed fresh, or where nobody has said how many it serves.
func CapacityUsed(p *sequence.Plan, b *sequence.Bath) string {
	k := bottleFor(p, b)
	if k == nil {
		return ""
	}
	room, known := k.Capacity()
	if !known {
		return ""
	}
	need, left := float64(p.Sheets)*p.Recipe.Load.Size.SquareInches()/chem.SheetArea, max(0, room-k.SheetsDone)
	line := fmt.Sprintf("takes %.4g of the %s that it still serves", need, sequence.CountFourByFives(left))
	if need > left+1e-9 {
		line += fmt.Sprintf(", SHORT by %.4g", need-left)
	}
	return line
}

// bottleFor is the bottle that serves as a bath, with what the recipe says where the
// bottle does not; nil where it is mixed fresh.
func bottleFor(p *sequence.Plan, b *sequence.Bath) *sequence.OpenBottle {
	k, ok := p.OpenBottle(b.ID)
	if !ok {
		return nil
	}
	k.WorkingLife = cmp.Or(k.WorkingLife, b.WorkingLife)
	if most := MostLife(b); most > 0 {
		k.WorkingLife = min(k.WorkingLife, most)
	}
	k.Volume = cmp.Or(k.Volume, b.Volume)
	k.SheetsPerLitre = cmp.Or(k.SheetsPerLitre, b.SheetsPerLitre)
	return &k
}

// Stock that is needed, in words, for a bath mixed fresh and for a kept one.
func (w *cautionBuilder) stock(b *sequence.Bath, k *sequence.OpenBottle) {
	volume, sheets := b.Volume, float64(w.p.Sheets)*w.area()/chem.SheetArea
	if k != nil {
		volume = k.Volume
		if !b.OneShot {
			sheets += k.SheetsDone // the same stock has served those already
		}
	}
	have, known := chem.StockIn(b.Parts, volume)
	need, asked := chem.StockFor(1, sheets*chem.SheetArea, b.StockPerSheet)
	if known != nil || asked != nil || have >= need {
		return
	}
	served := ""
	if k != nil && k.SheetsDone > 0 && !b.OneShot {
		served = ", with those that it has served"
	}
	w.add(sequence.Danger, "stock-short", "%s: %.3g ml of %s for %d sheets%s; expected at least %.3g ml", b.ID, float64(have), b.Parts[0].Name, w.p.Sheets, served, float64(need))
}

// capacity looks at how much film a bath has done and can still do.
func (w *cautionBuilder) capacity(b *sequence.Bath, k *sequence.OpenBottle) {
	p, format := w.p, w.p.Recipe.Load.Size.Name
	if k == nil {
		if room, err := chem.Capacity(b.Volume, b.SheetsPerLitre, w.area()); err == nil && p.Sheets > room {
			w.add(sequence.Care, "capacity", "%s: %.4g ml serves %d sheets of %s; these are %d", b.ID, float64(b.Volume), room, format, p.Sheets)
		}
		return
	}
	room, known := k.Capacity()
	now := float64(p.Sheets) * w.area() / chem.SheetArea
	const grain = 1e-9 // litres times sheets a litre
	switch {
	case b.OneShot && k.SheetsDone > 0:
		w.add(sequence.Danger, "spent", "%s (%s): meant for one session, and has had it", b.ID, k.Bottle)
	case !known && k.SheetsDone > 0:
		w.add(sequence.Note, "capacity-unknown", "%s (%s): has done %s; nobody has said how many it serves", b.ID, k.Bottle, sequence.CountFourByFives(k.SheetsDone))
	case !known:
	case k.SheetsDone >= room-grain:
		w.add(sequence.Danger, "spent", "%s (%s): spent: has done %s of the %.4g that it serves", b.ID, k.Bottle, sequence.CountFourByFives(k.SheetsDone), room)
	case k.SheetsDone+now > room+grain:
		w.add(sequence.Care, "capacity", "%s (%s): has done %s and serves %.4g; these count as %.4g", b.ID, k.Bottle, sequence.CountFourByFives(k.SheetsDone), room, now)
	case k.SheetsDone >= room/2-grain:
		w.add(sequence.Care, "half-spent", "%s (%s): half spent: has done %s of the %.4g that it serves", b.ID, k.Bottle, sequence.CountFourByFives(k.SheetsDone), room)
	}
}

// bottleVolume looks at whether a bottle holds what the recipe fills its vessel with.
func (w *cautionBuilder) bottleVolume(b *sequence.Bath, k *sequence.OpenBottle) {
	if k != nil && k.Volume < b.Volume {
		w.add(sequence.Care, "volume-short", "%s (%s): the bottle holds %.4g ml, and the recipe fills %.4g ml", b.ID, k.Bottle, float64(k.Volume), float64(b.Volume))
	}
}

// workingLife looks at how long a bath keeps.
func (w *cautionBuilder) workingLife(b *sequence.Bath, k *sequence.OpenBottle) {
	last := lastUse(w.p, b.ID)
	switch {
	case k == nil && b.WorkingLife > 0 && last > b.WorkingLife:
		w.add(sequence.Danger, "stale", "%s: used until %s, keeps for %s once mixed", b.ID, chem.FormatDuration(last), chem.FormatDuration(b.WorkingLife))
	case k == nil:
	case k.Age < 0:
		w.add(sequence.Care, "clock", "%s (%s): mixed %s from now by this clock; how old it is cannot be told", b.ID, k.Bottle, chem.FormatDuration(-k.Age))
	case k.WorkingLife > 0 && k.Age+last > k.WorkingLife:
		w.add(sequence.Danger, "stale", "%s (%s): stale: mixed %s ago and used until %s, keeps for %s once mixed",
			b.ID, k.Bottle, sequence.FormatAge(k.Age), chem.FormatDuration(last), sequence.FormatAge(k.WorkingLife))
	}
}

// fixerClearing looks at a fixer's clearing times.
func (w *cautionBuilder) fixerClearing(b *sequence.Bath, k *sequence.OpenBottle) {
	if k != nil && chem.FixerExhausted(k.FreshClearing, k.Clearing) {
		w.add(sequence.Danger, "spent", "%s (%s): spent: clears in %s, fresh it took %s (NAVEDTRA 14209 p. 249)",
			b.ID, k.Bottle, chem.FormatDuration(k.Clearing), chem.FormatDuration(k.FreshClearing))
	}
	if k == nil || k.Clearing == 0 {
		return
	}
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		if need := schedule.FixedFor(w.p, i, k.Clearing); st.Bath == b.ID && st.Kind == sequence.Fix && st.Dose < need {
			w.add(sequence.Care, "short-fix", "%s: %s in %s (%s), which clears in %s: that takes %s (NAVEDTRA 14209 p. 249)", st.Name,
				chem.FormatDuration(st.Dose), b.ID, k.Bottle, chem.FormatDuration(k.Clearing), chem.FormatDuration(need))
		}
	}
}

func (w *cautionBuilder) area() float64 { return w.p.Recipe.Load.Size.SquareInches() }

// BottleCautions are the plan's cautions about baths that stand ready, gravest first.
func BottleCautions(p *sequence.Plan) []sequence.Caution {
	codes := []string{"stale", "spent", "half-spent", "capacity", "capacity-unknown", "stock-short", "stock-lacking", "volume-short", "short-fix", "clock"}
	var list []sequence.Caution
	for _, c := range p.Cautions {
		if len(p.Conditions.OpenBottles)+len(p.Conditions.Stock) > 0 && slices.Contains(codes, c.Code) {
			list = append(list, c)
		}
	}
	return list
}
