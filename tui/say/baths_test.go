package say

import (
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

func TestBaths(t *testing.T) {
	same(t, Withdrawal(sequence.Withdrawal{Part: "A", Bottle: "new", Volume: 20, Left: 20, Short: 7.14}, celsius), "A: 20 ml of the 20 ml in new, SHORT by 7.1 ml")
	same(t, BottleFacts(sequence.OpenBottle{Age: 5 * day, SheetsDone: 6}), "mixed 5 days ago, 6 sheets of 4x5in done")
	same(t, BottleFacts(sequence.OpenBottle{Age: 13*time.Minute + 48*time.Second}), "mixed 13 min ago, 0 sheets of 4x5in done")
	same(t, BottleFacts(sequence.OpenBottle{Age: -time.Hour}), "mixed in the future by this clock, 0 sheets of 4x5in done")
	same(t, ByLabel(planning.ByLabel{Name: "wetting agent", Volume: 1500}, celsius), "1.5 L, as its maker says")
	same(t, Agitation(sequence.Agitation{Mode: sequence.Pattern, Initial: time.Minute, For: 10 * time.Second, Every: time.Minute}), "first 1 min, then 10 s each minute")
	same(t, Agitation(sequence.Agitation{Mode: sequence.Continuous}), "continuous")
	// twice the clearing time (NAVEDTRA 14209 p. 249)
	same(t, FixTimes(sequence.OpenBottle{Clearing: time.Minute})[:len("fix for 2:00")], "fix for 2:00")
	same(t, FixTimes(sequence.OpenBottle{}), "")
}

// 1.5 L at 4 sheets a litre serve 6; 3 are done: 4 more are one too many.
func TestCapacityUsed(t *testing.T) {
	r := recipetest.FourInHangers()
	r.Baths = []sequence.Bath{{ID: "fixer", Parts: []chem.Part{{Name: "fixer", Parts: 1}}, Volume: 1500, SheetsPerLitre: 4}}
	p := planOf(t, r, sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "fixer", Bottle: "f", SheetsDone: 3, Volume: 1500, SheetsPerLitre: 4}}})
	same(t, CapacityUsed(p, &p.Recipe.Baths[0]), "takes 4 of the 3 sheets of 4x5in that it can still do, SHORT by 1")
	p.Conditions.OpenBottles = nil
	same(t, CapacityUsed(p, &p.Recipe.Baths[0]), "")
}
