package planning

// Developers that are used again: how much longer one takes after what its bottle has done, and what replenisher
// it wants first. Only a bath whose recipe says how it weakens is taken so.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// ReuseDoubt is the share of what reuse adds by which that may be off (our own rule: what a bath gives up goes
// by how dense the negatives were, which nobody measures).
const ReuseDoubt = 0.5

// reusedBath is how step st's bath is when its bottle was used before; nil where it is fresh, made up by replenisher,
// does not develop, or its recipe says nothing of using it again.
func reusedBath(p *sequence.Plan, st *sequence.Step) *sequence.ReusedBath {
	b := p.Recipe.BathNamed(st.Bath)
	if b == nil || st.Kind != sequence.Develop {
		return nil
	}
	k, r, ok := reuseOf(p, b)
	if !ok {
		return nil
	}
	sheets := r.Unmade(k.SheetsDone, k.Replenished)
	factor, _ := r.Factor(sheets / float64(k.Volume) * 1000)
	if factor == 1 {
		return nil
	}
	return &sequence.ReusedBath{Bottle: k.Bottle, Sheets: sheets, Factor: factor}
}

// reuseOf is the bottle of a bath and how it weakens; false where the bath is fresh, for one session, or the recipe
// does not say.
func reuseOf(p *sequence.Plan, b *sequence.Bath) (*sequence.OpenBottle, *chem.Reuse, bool) {
	k := bottleFor(p, b)
	return k, b.Reuse, k != nil && b.Reuse != nil && !b.OneShot && k.Volume > 0
}

// reuse says what using a developer again asks for.
func (w *cautionBuilder) reuse(b *sequence.Bath) {
	k, r, ok := reuseOf(w.p, b)
	if !ok {
		return
	}
	if owed := r.Owed(k.SheetsDone, k.Replenished); owed > 0 {
		w.add(sequence.Care, "replenish", sequence.Values{Bath: b.ID, Bottle: k.Bottle, Volume: owed, Done: r.Unmade(k.SheetsDone, k.Replenished)})
	}
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		u := st.Reused
		if u == nil || st.Bath != b.ID {
			continue
		}
		v := sequence.Values{Step: st.Name, Bath: b.ID, Bottle: k.Bottle, Done: u.Sheets, Factor: u.Factor}
		w.add(sequence.Note, "reused", v)
		if _, known := r.Factor(u.Sheets / float64(k.Volume) * 1000); !known {
			w.add(sequence.Danger, "reuse-end", v)
		}
	}
}
