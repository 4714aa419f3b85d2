package planning

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// What stands ready is judged before film is wet: by the litre and the sheet, by
// age, by its clearing time; the arithmetic stands beside each.
func TestKeptBaths(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 6, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	r.Steps[0].Bath, r.Steps[1].Bath = "developer", "fixer"
	r.Baths = []sequence.Bath{
		{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 9}}, Volume: 1000, StockPerSheet: 5, SheetsPerLitre: 20, WorkingLife: time.Hour},
		{ID: "fixer", Volume: 500, SheetsPerLitre: 24}, // 12 sheets
	}
	oneShot := r
	oneShot.Baths = []sequence.Bath{r.Baths[0], r.Baths[1]}
	oneShot.Baths[0].OneShot = true
	developer, fixer := sequence.OpenBottle{Bath: "developer", Bottle: "d"}, sequence.OpenBottle{Bath: "fixer", Bottle: "f"}
	with := func(k sequence.OpenBottle, change func(*sequence.OpenBottle)) sequence.OpenBottle {
		change(&k)
		return k
	}
	for _, c := range []struct {
		name  string
		r     sequence.Recipe
		kept  sequence.OpenBottle
		code  string
		level sequence.Level
	}{
		{"fresh", r, fixer, "", ""},
		{"52 minutes old, used until 8:00: an hour", r, with(developer, func(k *sequence.OpenBottle) { k.Age = 52 * recipetest.Minute }), "stale", ""},
		{"a minute older", r, with(developer, func(k *sequence.OpenBottle) { k.Age = 53 * recipetest.Minute }), "stale", sequence.Danger},
		{"keeps for longer than the recipe says", r, with(developer, func(k *sequence.OpenBottle) { k.Age, k.WorkingLife = 53*recipetest.Minute, 2*time.Hour }), "stale", ""},
		{"one shot: no bottle keeps for longer than the recipe says", oneShot, with(developer, func(k *sequence.OpenBottle) { k.Age, k.WorkingLife = 53*recipetest.Minute, 2*time.Hour }), "stale", sequence.Danger},
		{"one shot, nor a minute less", oneShot, with(developer, func(k *sequence.OpenBottle) { k.Age, k.WorkingLife = 52*recipetest.Minute, 2*time.Hour }), "stale", ""},
		{"mixed tomorrow", r, with(developer, func(k *sequence.OpenBottle) { k.Age = -24 * time.Hour }), "clock", sequence.Care},
		{"5 done, 6 more of 12", r, with(fixer, func(k *sequence.OpenBottle) { k.SheetsDone = 5 }), "half-spent", ""},
		{"6 done, 6 more of 12", r, with(fixer, func(k *sequence.OpenBottle) { k.SheetsDone = 6 }), "half-spent", sequence.Care},
		{"7 done, 6 more of 12", r, with(fixer, func(k *sequence.OpenBottle) { k.SheetsDone = 7 }), "capacity", sequence.Care},
		{"12 done of 12", r, with(fixer, func(k *sequence.OpenBottle) { k.SheetsDone = 12 }), "spent", sequence.Danger},
		{"12 done of 24 in a litre", r, with(fixer, func(k *sequence.OpenBottle) { k.SheetsDone, k.Volume = 12, 1000 }), "spent", ""},
		{"as many as nobody knows", r, with(developer, func(k *sequence.OpenBottle) { k.Bath = "water"; k.SheetsDone = 3 }), "capacity-unknown", ""},
		{"as much as the recipe fills", r, with(fixer, func(k *sequence.OpenBottle) { k.Volume = 500 }), "volume-short", ""},
		{"a millilitre less", r, with(fixer, func(k *sequence.OpenBottle) { k.Volume = 499 }), "volume-short", sequence.Care},
		{"100 ml of A at 5 ml: 20 sheets, 14 done", r, with(developer, func(k *sequence.OpenBottle) { k.SheetsDone = 14 }), "stock-short", ""},
		{"15 done", r, with(developer, func(k *sequence.OpenBottle) { k.SheetsDone = 15 }), "stock-short", sequence.Danger},
		{"one shot, unused", oneShot, developer, "spent", ""},
		{"one shot, used", oneShot, with(developer, func(k *sequence.OpenBottle) { k.SheetsDone = 6 }), "spent", sequence.Danger},
		{"clears in just under twice", r, with(fixer, func(k *sequence.OpenBottle) { k.FreshClearing, k.Clearing = recipetest.Minute, 119*recipetest.Second }), "spent", ""},
		{"clears in twice", r, with(fixer, func(k *sequence.OpenBottle) { k.FreshClearing, k.Clearing = recipetest.Minute, 2*recipetest.Minute }), "spent", sequence.Danger},
		{"clears in half of the recipe's 5:00", r, with(fixer, func(k *sequence.OpenBottle) { k.FreshClearing, k.Clearing = 2*recipetest.Minute, 150*recipetest.Second }), "short-fix", ""},
		{"clears in a second more", r, with(fixer, func(k *sequence.OpenBottle) { k.FreshClearing, k.Clearing = 2*recipetest.Minute, 151*recipetest.Second }), "short-fix", sequence.Care},
		{"clears in half as long again after 6: serves 12 in all, 6 more", r, with(fixer, func(k *sequence.OpenBottle) {
			k.SheetsDone, k.ClearedSheets, k.Volume = 6, 6, 5000
			k.FreshClearing, k.Clearing = recipetest.Minute, 90*recipetest.Second
		}), "capacity", ""},
		{"after 5: serves 10 in all", r, with(fixer, func(k *sequence.OpenBottle) {
			k.SheetsDone, k.ClearedSheets, k.Volume = 5, 5, 5000
			k.FreshClearing, k.Clearing = recipetest.Minute, 90*recipetest.Second
		}), "capacity", sequence.Care},
		{"in a fixer at 50 °F it takes twice as long", inTheCold(r), with(fixer, func(k *sequence.OpenBottle) { k.FreshClearing, k.Clearing = 75*recipetest.Second, 75*recipetest.Second }), "short-fix", ""},
		{"and a second more", inTheCold(r), with(fixer, func(k *sequence.OpenBottle) { k.FreshClearing, k.Clearing = 75*recipetest.Second, 76*recipetest.Second }), "short-fix", sequence.Care},
		{"silver was left", r, with(fixer, func(k *sequence.OpenBottle) { k.SilverLeft = true }), "silver-left", sequence.Care},
		{"never tested fresh", r, with(fixer, func(k *sequence.OpenBottle) { k.Clearing = 2 * recipetest.Minute }), "spent", ""},
	} {
		p := Resolved(t, c.r, sequence.Conditions{OpenBottles: []sequence.OpenBottle{c.kept}})
		if got := code(p, c.code); c.code != "" && got != c.level || c.code == "" && len(BottleCautions(p)) > 0 {
			t.Errorf("%s: %s is %q; expected %q; all: %v", c.name, c.code, got, c.level, BottleCautions(p))
		}
	}
	unknown := r
	unknown.Baths = []sequence.Bath{r.Baths[0], {ID: "fixer"}}
	p := Resolved(t, unknown, sequence.Conditions{OpenBottles: []sequence.OpenBottle{with(fixer, func(k *sequence.OpenBottle) { k.SheetsDone = 3 })}})
	if code(p, "capacity-unknown") != sequence.Note {
		t.Errorf("nobody said how many the fixer serves: %v", p.Cautions)
	}
	if fresh := Resolved(t, r, sequence.Conditions{}); len(BottleCautions(fresh)) > 0 {
		t.Errorf("nothing is kept: %v", BottleCautions(fresh))
	}
}

// NAVEDTRA 14209 p. 249: twice the clearing time, once in each of two baths; by choice
// three times for a tabular emulsion, half of that in each of two (common practice).
func TestClearingTyped(t *testing.T) {
	one := recipetest.Recipe(sequence.Hangers, 6, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	two := recipetest.Recipe(sequence.Hangers, 6, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	for words, want := range map[string][2]sequence.Elapsed{"50s": {100 * recipetest.Second, 50 * recipetest.Second}, "50s,tabular": {150 * recipetest.Second, 75 * recipetest.Second}, "0:50,tabular": {150 * recipetest.Second, 75 * recipetest.Second}} {
		c, err := sequence.RawConditions{Clearing: words}.Conditions()
		if err != nil {
			t.Fatal(err)
		}
		a, b := Resolved(t, one, c), Resolved(t, two, c)
		if a.Steps[1].Given != want[0] || b.Steps[1].Given != want[1] || b.Steps[2].Given != want[1] {
			t.Errorf("%s: %v in one, %v and %v in two; expected %v", words, a.Steps[1].Given, b.Steps[1].Given, b.Steps[2].Given, want)
		}
		if again, err := c.Retyped().Conditions(); err != nil || again.Tabular != c.Tabular || again.Clearing != c.Clearing {
			t.Errorf("%s chosen again: %+v, %v", words, again, err)
		}
	}
	for _, words := range []string{",tabular", "50s,", "50s,tabula", "tabular"} {
		if c, err := (sequence.RawConditions{Clearing: words}).Conditions(); err == nil {
			t.Errorf("%q: %+v", words, c)
		}
	}
}

// inTheCold is a recipe that fixes at 10 °C, 50 °F.
func inTheCold(r sequence.Recipe) sequence.Recipe {
	r.Steps = slices.Clone(r.Steps)
	for i := range r.Steps {
		if r.Steps[i].Kind == sequence.Fix {
			r.Steps[i].Temperature = &sequence.Temperature{At: 10}
		}
	}
	return r
}
