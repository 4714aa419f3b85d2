package planning

// Stock against what the baths take, by hand: A 1 + B 3 + water 80 makes 1.5 l of
// 1500/63 = 23.81 ml A and 47.62 ml B; 2.1 l of it take 33.33 ml A.

import (
	"math"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// stocked is a session with two baths that have A in them, and a third that stands ready.
func stocked(tb testing.TB, stock ...sequence.Stock) *sequence.Plan {
	parts := []chem.Part{{Name: "A", Parts: 1}, {Name: "B", Parts: 2}, {Name: "water", Parts: 60}}
	r := recipetest.Recipe(sequence.Hangers, 4, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.StopBath, recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	for i, id := range []string{"developer", "second", "fixer"} {
		r.Steps[i].Bath = id
		r.Baths = append(r.Baths, sequence.Bath{ID: id, Parts: parts, Volume: 1500})
	}
	r.Baths[1].Volume = 2100
	r.Baths = append(r.Baths, sequence.Bath{ID: "unused", Parts: parts, Volume: 1500})
	return Resolved(tb, r, sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "fixer", Bottle: "f", Volume: 1500, SheetsPerLitre: 4, SheetsDone: 3}}, Stock: StockUsed(&r, stock)})
}

func TestDrawsByHand(t *testing.T) {
	p := stocked(t, sequence.Stock{Part: "a", Bottle: "old", Left: 30, Opened: 100}, sequence.Stock{Part: "A", Bottle: "new", Left: 20, Opened: 500}, sequence.Stock{Part: "C", Bottle: "other", Left: 50, Opened: 50})
	if len(p.Conditions.Stock) != 2 {
		t.Fatalf("%v; expected the two bottles of A", p.Conditions.Stock)
	}
	want := []sequence.Withdrawal{
		{Bath: "developer", Part: "A", Bottle: "old", Volume: 23.81, Left: 30, Short: 0},
		{Bath: "second", Part: "A", Bottle: "old", Volume: 6.19, Left: 6.19, Short: 0},
		{Bath: "second", Part: "A", Bottle: "new", Volume: 20, Left: 20, Short: 33.33 - 6.19 - 20},
	}
	got := Withdrawals(p)
	if len(got) != len(want) {
		t.Fatalf("%+v; expected %+v", got, want)
	}
	for i, d := range got {
		w := want[i]
		off := math.Abs(float64(d.Volume-w.Volume)) + math.Abs(float64(d.Left-w.Left)) + math.Abs(float64(d.Short-w.Short))
		if d.Bath != w.Bath || d.Bottle != w.Bottle || off > 0.03 {
			t.Errorf("%+v; expected %+v", d, w)
		}
	}
	lacking := 0
	for _, c := range BottleCautions(p) {
		if c.Code == "stock-lacking" && c.Level == sequence.Care && c.Bath == "second" && c.Part == "A" && math.Abs(float64(c.Need)-7.14) < 0.01 {
			lacking++
		}
	}
	if lacking != 1 {
		t.Errorf("%v; expected one caution of stock", p.Cautions)
	}
	if p = stocked(t, sequence.Stock{Part: "A", Bottle: "full", Left: 500, Opened: 500}); code(p, "stock-lacking") != "" || len(Withdrawals(p)) != 2 {
		t.Errorf("with enough: %+v, %v", Withdrawals(p), p.Cautions)
	}
	if p = stocked(t); len(Withdrawals(p)) != 0 || code(p, "stock-lacking") != "" {
		t.Errorf("stock that nobody counts is looked at: %+v", Withdrawals(p))
	}
	// 1.5 l at 4 sheets a litre serve 6, 3 are done: 4 more are one too many
	if need, left, known := CapacityUsed(p, &p.Recipe.Baths[2]); need != 4 || left != 3 || !known {
		t.Errorf("the kept bath: %v of %v, %v; expected 4 of 3", need, left, known)
	}
	if _, _, known := CapacityUsed(p, &p.Recipe.Baths[0]); known {
		t.Error("a fresh bath has something left to serve")
	}
}
