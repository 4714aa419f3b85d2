package bottles

// Two fixing baths in a row: film counts on the first; when that is retired the second takes its place and begins
// to count.

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

func fixerAs(id string) *sequence.Bath {
	b := fixerBath()
	b.ID = id
	return b
}

// Six sheets of 4x5in are 120 square inches on the first, and on the second behind it. A bath that the film comes back
// to, and one that is not a fixer's, are no second.
func TestFilmCountsOnTheFirstFixer(t *testing.T) {
	for want, baths := range map[[2]float64][3]string{{120, 0}: {"developer", "one", "two"}, {120, 120}: {"two", "one", "two"}} {
		r := sessiontest.Recipe(sequence.Hangers, 6, recipetest.Bath(sequence.Develop, 6*recipetest.Minute),
			recipetest.Bath(sequence.Fix, 3*recipetest.Minute), recipetest.Bath(sequence.Fix, 3*recipetest.Minute))
		r.Baths = append(r.Baths, *fixerAs("one"), *fixerAs("two"))
		r.Steps[2].Name = "fix 2"
		for i := range r.Steps {
			r.Steps[i].Bath = baths[i]
		}
		kept := sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "one", Bottle: "a"}, {Bath: "two", Bottle: "b"}}}
		store := sessiontest.NewStore(t)
		s := sessionIn(t, store, sessiontest.Begin(t, store, 0, r, kept).Finish())
		all := inventoryOf(append([]Entry{{At: sessiontest.Evening.Add(-time.Hour), Action: Mixed, Bottle: "a", Bath: fixerAs("one")},
			{At: sessiontest.Evening.Add(-time.Hour), Action: Mixed, Bottle: "b", Bath: fixerAs("two")}}, Bookings(&s)...))
		if got := [2]float64{all.Bottles[0].Area, all.Bottles[1].Area}; got != want || all.Bottles[1].AreaBehind != 120-want[1] || all.Bottles[1].IsFresh() {
			t.Errorf("%v: %v, behind %v; expected %v", baths, got, all.Bottles[1].AreaBehind, want)
		}
	}
}

// The first does 10 sheets, a litre's; the second follows it, counts from nothing and is of its own age. What it clears
// in before film came behind another is fresh, later not.
func TestTheSecondMovesUp(t *testing.T) {
	at := func(h int) time.Time { return sessiontest.Evening.Add(time.Duration(h) * time.Hour) }
	entries := []Entry{{At: at(0), Action: Mixed, Bottle: "a", Bath: fixerAs("one")}, {At: at(1), Action: Mixed, Bottle: "b", Bath: fixerAs("two")},
		{At: at(2), Action: Cleared, Bottle: "b", Clearing: time.Minute},
		{At: at(3), Action: Used, Bottle: "a", Session: "s", Area: 200}, {At: at(3), Action: Used, Bottle: "b", Session: "s", Area: 200, Behind: true},
		{At: at(4), Action: Cleared, Bottle: "b", Clearing: 70 * time.Second}}
	all := inventoryOf(entries)
	if second, ok := all.Successor(all.Bottles[0]); !ok || second.Name != "b" {
		t.Errorf("%v follows the first", second.Name)
	}
	if first, ok := all.Successor(all.Bottles[1]); ok {
		t.Errorf("%s, which has done more, follows the second", first.Name)
	}
	all = inventoryOf(append(entries, Entry{At: at(5), Action: Retired, Bottle: "a"}, Entry{At: at(5), Action: Serves, Bottle: "b", Serves: "one"},
		Entry{At: at(6), Action: Used, Bottle: "b", Session: "t", Area: 60}))
	b := all.Bottles[1]
	if k := b.OpenBottle(at(7)); k.Bath != "one" || k.SheetsDone != 3 || k.Age != 6*time.Hour || k.FreshClearing != time.Minute || k.Clearing != 70*time.Second || b.SheetsBehind() != 10 {
		t.Errorf("%+v, %g behind", k, b.SheetsBehind())
	}
	late := inventoryOf([]Entry{entries[1], entries[4], entries[5]})
	if c := late.Bottles[0]; c.FreshClearing != 0 {
		t.Errorf("fresh after film came behind another: %v", c.FreshClearing)
	}
}
