package planning

// Baths that stand ready: what a bottle mixed before, and perhaps used, means for
// a plan. Spent and stale baths are told before film is wet.

import (
	"cmp"
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

// FixesBehind reports whether a bath is only ever the second of fixing baths in a row, or a later one. Film counts on
// the first, which takes nearly all of its silver; the second stays nearly fresh and takes the first's place when that
// is spent (common practice, no source: how much it takes nobody publishes; its clearing test tells).
func FixesBehind(p *sequence.Plan, bath string) bool {
	behind := false
	for i := range p.Steps {
		if st := &p.Steps[i]; st.Bath == bath {
			if behind = st.Kind == sequence.Fix && i > 0 && p.Steps[i-1].Kind == sequence.Fix && p.Steps[i-1].Bath != bath; !behind {
				return false
			}
		}
	}
	return behind
}

// CapacityUsed is what the plan's sheets take of what a kept bath can still serve, both in
// sheets of 4x5in; false for one that is mixed fresh or fixes behind another, or where nobody has said how many it
// serves.
func CapacityUsed(p *sequence.Plan, b *sequence.Bath) (need, left float64, known bool) {
	k := bottleFor(p, b)
	if k == nil || FixesBehind(p, b.ID) {
		return 0, 0, false
	}
	room, known := Serves(k)
	return float64(p.Sheets) * p.Recipe.Load.Size.SquareInches() / chem.SheetArea, max(0, room-k.SheetsDone), known
}

// Serves is how many sheets of 4x5in a bottle takes in all: the less of what was said of it and of what its
// clearing times tell, while they say that it still serves; false where neither is known.
func Serves(k *sequence.OpenBottle) (float64, bool) {
	room, known := k.Capacity()
	if by, ok := k.CapacityByClearing(); ok && !chem.FixerExhausted(k.FreshClearing, k.Clearing) && (!known || by < room) {
		return by, true
	}
	return room, known
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
	k.SheetsPerLitre = cmp.Or(k.SheetsPerLitre, b.MostPerLitre())
	if most := b.MostPerLitre(); b.Reuse != nil && most > 0 {
		k.SheetsPerLitre = min(k.SheetsPerLitre, most)
	}
	return &k
}

// Stock that is needed, in words, for a bath mixed fresh and for a kept one.
func (w *cautionBuilder) stock(b *sequence.Bath, k *sequence.OpenBottle) {
	volume, sheets := b.Volume, float64(w.p.Sheets)*w.p.Recipe.Load.Size.SquareInches()/chem.SheetArea
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
	v := sequence.Values{Bath: b.ID, Part: b.Parts[0].Name, Volume: have, Need: need, Sheets: w.p.Sheets}
	if k != nil && !b.OneShot {
		v.Done = k.SheetsDone
	}
	w.add(sequence.Danger, "stock-short", v)
}

// capacity looks at how much film a bath has done and can still do.
func (w *cautionBuilder) capacity(b *sequence.Bath, k *sequence.OpenBottle) {
	p, behind := w.p, FixesBehind(w.p, b.ID)
	if k == nil && behind {
		return
	}
	if k == nil {
		if room, err := chem.Capacity(b.Volume, b.SheetsPerLitre, w.p.Recipe.Load.Size.SquareInches()); err == nil && p.Sheets > room {
			w.add(sequence.Care, "capacity", sequence.Values{Bath: b.ID, Volume: b.Volume, Room: room, Sheets: p.Sheets})
		}
		return
	}
	room, known := Serves(k)
	now := float64(p.Sheets) * w.p.Recipe.Load.Size.SquareInches() / chem.SheetArea
	if behind {
		now = 0 // it is spent, where it is, by what it did when it was the first
	}
	const grain = 1e-9 // litres times sheets a litre
	v := sequence.Values{Bath: b.ID, Bottle: k.Bottle, Done: k.SheetsDone, Serves: room, Count: now}
	switch {
	case b.OneShot && k.SheetsDone > 0:
		w.add(sequence.Danger, "spent", sequence.Values{Bath: b.ID, Bottle: k.Bottle})
	case !known && k.SheetsDone > 0:
		w.add(sequence.Note, "capacity-unknown", v)
	case !known:
	case k.SheetsDone >= room-grain:
		w.add(sequence.Danger, "spent", v)
	case k.SheetsDone+now > room+grain:
		w.add(sequence.Care, "capacity", v)
	case k.SheetsDone >= room/2-grain:
		w.add(sequence.Care, "half-spent", v)
	}
}

// bottleVolume looks at whether a bottle holds what the recipe fills its vessel with.
func (w *cautionBuilder) bottleVolume(b *sequence.Bath, k *sequence.OpenBottle) {
	if k != nil && k.Volume < b.Volume {
		w.add(sequence.Care, "volume-short", sequence.Values{Bath: b.ID, Bottle: k.Bottle, Volume: k.Volume, Need: b.Volume})
	}
}

// workingLife looks at how long a bath keeps.
func (w *cautionBuilder) workingLife(b *sequence.Bath, k *sequence.OpenBottle) {
	last := lastUse(w.p, b.ID)
	switch {
	case k == nil && b.WorkingLife > 0 && last > b.WorkingLife:
		w.add(sequence.Danger, "stale", sequence.Values{Bath: b.ID, Time: last, Of: b.WorkingLife})
	case k == nil:
	case k.Age < 0:
		w.add(sequence.Care, "clock", sequence.Values{Bath: b.ID, Bottle: k.Bottle, Ago: k.Age})
	case k.WorkingLife > 0 && k.Age+last > k.WorkingLife:
		w.add(sequence.Danger, "stale", sequence.Values{Bath: b.ID, Bottle: k.Bottle, Ago: k.Age, Time: last, Of: k.WorkingLife})
	}
}

// fixerClearing looks at a fixer's clearing times.
func (w *cautionBuilder) fixerClearing(b *sequence.Bath, k *sequence.OpenBottle) {
	if k != nil && chem.FixerExhausted(k.FreshClearing, k.Clearing) {
		w.add(sequence.Danger, "spent", sequence.Values{Bath: b.ID, Bottle: k.Bottle, Time: k.Clearing, Of: k.FreshClearing})
	}
	if k != nil && k.SilverLeft {
		w.add(sequence.Care, "silver-left", sequence.Values{Bath: b.ID, Bottle: k.Bottle})
	}
	if k == nil || k.Clearing == 0 {
		return
	}
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		if need := schedule.FixedByBottle(w.p, i, k.Clearing); st.Bath == b.ID && st.Kind == sequence.Fix && st.Dose < need {
			w.add(sequence.Care, "short-fix", sequence.Values{Step: st.Name, Bath: b.ID, Bottle: k.Bottle, Time: st.Dose, Each: k.Clearing, Of: need})
		}
	}
}

// BottleCautions are the plan's cautions about baths that stand ready, gravest first.
func BottleCautions(p *sequence.Plan) []sequence.Caution {
	codes := []string{"stale", "reuse-end", "replenish", "reused", "spent", "half-spent", "capacity", "capacity-unknown", "stock-short", "stock-lacking", "volume-short", "short-fix", "silver-left", "clock"}
	var list []sequence.Caution
	for _, c := range p.Cautions {
		if len(p.Conditions.OpenBottles)+len(p.Conditions.Stock) > 0 && slices.Contains(codes, c.Code) {
			list = append(list, c)
		}
	}
	return list
}
