package planning

// How many sheets one fill of each bath serves, and when it must be fresh.

import (
	"math"
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// limitByBaths lowers a number of sheets to what one fill of each bath serves.
func limitByBaths(r sequence.Recipe, n int, why sequence.Reason) (int, sequence.Reason) {
	for i := range r.Baths {
		b := &r.Baths[i]
		if room := freshCapacity(&r, b); room > 0 && room < n {
			n, why = room, sequence.Reason{Code: "bath", Values: sequence.Values{Bath: b.ID, Volume: b.Volume}}
		}
	}
	return n, why
}

// freshCapacity is how many of the recipe's sheets a fresh fill of a bath serves, by its
// capacity and by the stock in it; 0 where neither is known, 1 at least.
func freshCapacity(r *sequence.Recipe, b *sequence.Bath) int {
	area, room := r.Load.Size.SquareInches(), 0
	if n, err := chem.Capacity(b.Volume, b.SheetsPerLitre, area); err == nil {
		room = max(1, n)
	}
	have, known := chem.StockIn(b.Parts, b.Volume)
	each, asked := chem.StockFor(1, area, b.StockPerSheet)
	if known == nil && asked == nil {
		n := max(1, int(math.Floor(float64(have/each)+1e-9)))
		if room == 0 || n < room {
			room = n
		}
	}
	return room
}

// bathUse follows the baths through the rounds.
type bathUse struct {
	recipe sequence.Recipe
	state  map[string]*bathAge
}

// bathAge is a bath since it was fresh.
type bathAge struct {
	sheets int
	since  sequence.Elapsed // when it was mixed: at the start of a round, or before the first
	room   int              // sheets that it can serve; 0 where not known
	keeps  sequence.Elapsed // 0 where not known
	bottle string           // that it comes from; "" where it was mixed for a round
}

// forRound uses the baths for one round. Of fixing baths in a row all count its sheets, to the careful side: they are
// mixed fresh together, where the second could take the first's place.
func (u *bathUse) forRound(p *sequence.Plan, start sequence.Elapsed) []RoundBath {
	var list []RoundBath
	for i := range u.recipe.Baths {
		b := &u.recipe.Baths[i]
		last := lastUse(p, b.ID)
		if last == 0 {
			continue
		}
		was := u.state[b.ID]
		rb := RoundBath{ID: b.ID, Volume: b.Volume, Cause: whyFresh(b, was, p.Sheets, start+last, develops(p, b.ID))}
		if rb.Cause.Given() {
			was, rb.Fresh = &bathAge{since: start, room: freshCapacity(&u.recipe, b), keeps: b.WorkingLife}, true
			u.state[b.ID] = was
			if have, err := chem.StockIn(b.Parts, b.Volume); err == nil && len(b.Parts) > 1 {
				rb.Stock = have
			}
		}
		was.sheets += p.Sheets
		rb.Served, rb.Capacity, rb.Bottle = was.sheets, was.room, was.bottle
		list = append(list, rb)
	}
	return list
}

// planRound is the plan of a round; draws: the first of those to come, which draws on the bottles that stand open. A
// developer that weakens with use is the bottle that the rounds before left; where it must be mixed fresh the plan
// is a fresh one's.
func (u *bathUse) planRound(c sequence.Conditions, start sequence.Elapsed, draws bool) (sequence.Plan, schedule.Stays, error) {
	p, f, err := planTimes(u.recipe, c)
	if err != nil {
		return p, f, err
	}
	if draws {
		u.draw(&p, start)
	}
	left, weakens := slices.Clone(c.OpenBottles), false
	for k := range u.recipe.Baths {
		b := &u.recipe.Baths[k]
		if b.Reuse == nil || b.OneShot {
			continue
		}
		was, from := u.state[b.ID], bottleFor(&p, b)
		left, weakens = slices.DeleteFunc(left, func(k sequence.OpenBottle) bool { return k.Bath == b.ID }), true
		if was != nil && !whyFresh(b, was, p.Sheets, start+lastUse(&p, b.ID), develops(&p, b.ID)).Given() {
			left = append(left, u.bottle(b, was, from))
		}
	}
	if !weakens {
		return p, f, nil
	}
	c.OpenBottles = left
	return planTimes(u.recipe, c)
}

// bottle is a bath of the rounds as a bottle that stands open; from is the one that it came from, nil for none.
func (u *bathUse) bottle(b *sequence.Bath, was *bathAge, from *sequence.OpenBottle) sequence.OpenBottle {
	k := sequence.OpenBottle{Bath: b.ID, Bottle: b.ID, Volume: b.Volume, WorkingLife: b.WorkingLife, SheetsPerLitre: b.MostPerLitre()}
	if was.bottle != "" && from != nil {
		k = *from
	}
	k.SheetsDone = float64(was.sheets) * u.recipe.Load.Size.SquareInches() / chem.SheetArea
	return k
}

// whyFresh is why a bath must be mixed fresh before it serves n more sheets until a
// moment; none where it need not.
func whyFresh(b *sequence.Bath, was *bathAge, n int, until sequence.Elapsed, develops bool) sequence.Reason {
	switch {
	case was == nil:
		return sequence.Reason{Code: "first-round"}
	case OnlyWater(b):
		return sequence.Reason{Code: "water"}
	case b.OneShot && was.sheets > 0:
		return sequence.Reason{Code: "one-session"}
	case was.room > 0 && was.sheets+n > was.room:
		return sequence.Reason{Code: "capacity", Values: sequence.Values{Sheets: was.sheets, Room: was.room}}
	case was.keeps > 0 && until-was.since > was.keeps:
		return sequence.Reason{Code: "working-life", Values: sequence.Values{Of: was.keeps}}
	case develops && was.room == 0 && was.sheets > 0:
		return sequence.Reason{Code: "capacity-unknown"}
	}
	return sequence.Reason{}
}

// develops reports whether a bath is a developer.
func develops(p *sequence.Plan, bath string) bool {
	return slices.ContainsFunc(p.Steps, func(st sequence.PlanStep) bool {
		return st.Bath == bath && st.Kind == sequence.Develop
	})
}
