package planning

import (
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Of two fixers in a row the first is short for eight sheets where a litre does five; the second, mixed fresh or from a
// bottle, is not. One that was the first before is told as spent.
func TestTheSecondFixerTakesNoCount(t *testing.T) {
	one, two := recipetest.Bath(sequence.Fix, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute)
	one.Bath, two.Bath = "one", "two"
	r := recipetest.Recipe(sequence.Hangers, 8, recipetest.Bath(sequence.Develop, 5*recipetest.Minute), one, two)
	r.Baths = []sequence.Bath{{ID: "one", Volume: 1000, SheetsPerLitre: 5}, {ID: "two", Volume: 1000, SheetsPerLitre: 5}}
	told := func(open ...sequence.OpenBottle) (list []string) {
		for _, c := range Resolved(t, r, sequence.Conditions{OpenBottles: open}).Cautions {
			if c.Code == "capacity" || c.Code == "half-spent" || c.Code == "spent" {
				list = append(list, c.Code+" "+c.Bath)
			}
		}
		return list
	}
	bottle := func(bath string, done float64) sequence.OpenBottle {
		return sequence.OpenBottle{Bath: bath, Bottle: "b-" + bath, Volume: 1000, SheetsPerLitre: 5, SheetsDone: done}
	}
	for _, c := range []struct {
		open []sequence.OpenBottle
		want string
	}{{nil, "capacity one"}, {[]sequence.OpenBottle{bottle("one", 1), bottle("two", 1)}, "capacity one"}, {[]sequence.OpenBottle{bottle("two", 5)}, "spent two, capacity one"}} {
		got := map[string]bool{}
		list := told(c.open...)
		for _, s := range list {
			got[s] = true
		}
		switch {
		case c.want == "spent two, capacity one" && (len(list) != 2 || !got["spent two"] || !got["capacity one"]),
			c.want == "capacity one" && (len(list) != 1 || !got["capacity one"]):
			t.Errorf("%v: %v; expected %s", c.open, list, c.want)
		}
	}
	p := Resolved(t, r, sequence.Conditions{OpenBottles: []sequence.OpenBottle{bottle("one", 1), bottle("two", 0)}})
	if need, left, known := CapacityUsed(p, &p.Recipe.Baths[0]); need != 8 || left != 4 || !known {
		t.Errorf("first: takes %g of %g (%v)", need, left, known)
	}
	if _, _, known := CapacityUsed(p, &p.Recipe.Baths[1]); known {
		t.Error("the second takes some too")
	}
}
