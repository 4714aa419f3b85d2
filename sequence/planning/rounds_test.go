package planning

// Batches: rounds worked by hand, and what must hold of any.

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Twenty sheets of a stack of six in a developer for nine sheets that keeps for an hour:
// four rounds of five. Loading takes 4 x 15 s, and each bath is left 10 s apart; the
// developer has room for one round (5 + 5 > 9), the fixer for thirty sheets.
func TestBatchesByHand(t *testing.T) {
	dev, fix := recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 4*recipetest.Minute))
	dev.Bath, fix.Bath = "developer", "fixer"
	r := recipetest.Recipe(sequence.Tray, 6, dev, fix)
	r.Baths = []sequence.Bath{
		{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 9}}, Volume: 1000, SheetsPerLitre: 9, WorkingLife: 60 * recipetest.Minute},
		{ID: "fixer", Volume: 1000, SheetsPerLitre: 30}}
	b, err := DivideIntoRounds(r, sequence.Conditions{}, RoundsOrder{Sheets: 20, Between: 10 * recipetest.Minute, Stock: 350})
	if err != nil {
		t.Fatal(err)
	}
	// Five sheets: the last is dipped at 1:00 and leaves at 9:00; from there the fixer's
	// 4:00, and the five lifts take 40 s more.
	last := 1*recipetest.Minute + 8*recipetest.Minute + 4*recipetest.Minute + 40*recipetest.Second
	if len(b.Rounds) != 4 || b.Rounds[0].Time != last || b.Rounds[1].Start != last+10*recipetest.Minute || b.Total != 4*last+30*recipetest.Minute {
		t.Fatalf("%d rounds of %v, the second at %v, in all %v; expected 4 of %v", len(b.Rounds), b.Rounds[0].Time, b.Rounds[1].Start, b.Total, last)
	}
	for i, round := range b.Rounds {
		if d := round.Baths[0]; round.Sheets != 5 || !d.Fresh || d.Stock != 100 {
			t.Errorf("round %d: %d sheets, developer %+v; expected 5, fresh, 100 ml of its first part", i+1, round.Sheets, d)
		}
		if f := round.Baths[1]; f.Fresh != (i == 0) || f.Served != 5*(i+1) || f.Capacity != 30 {
			t.Errorf("round %d: fixer %+v", i+1, f)
		}
	}
	if *b.Stock != 400 || b.Short != 50 {
		t.Errorf("stock %v, lacking %v; expected 400 and 50 ml", *b.Stock, b.Short)
	}
}

// A bath that keeps for half an hour is mixed fresh for the round in which it would
// be older, however few sheets it has had.
func TestBatchesOfAnOldBath(t *testing.T) {
	dev := recipetest.Bath(sequence.Develop, 10*recipetest.Minute)
	dev.Bath = "developer"
	r := recipetest.Recipe(sequence.Hangers, 2, dev)
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 1000, SheetsPerLitre: 100, WorkingLife: 30 * recipetest.Minute}}
	b, err := DivideIntoRounds(r, sequence.Conditions{}, RoundsOrder{Sheets: 6, Between: 9 * recipetest.Minute})
	if err != nil {
		t.Fatal(err)
	}
	var fresh []bool
	for _, round := range b.Rounds {
		fresh = append(fresh, round.Baths[0].Fresh)
	}
	if !slices.Equal(fresh, []bool{true, false, true}) { // used until 10, 29 and 48 minutes
		t.Errorf("fresh: %v; expected the first and the third", fresh)
	}
}

// Open bottles count: one that has done half of its sheets serves until those it can serve
// are done, and one mixed long ago is not used beyond its life. Water is fresh each round,
// and so is what is for one session.
func TestBatchesDrawOnBottles(t *testing.T) {
	dev, stop, fix := recipetest.Bath(sequence.Develop, 10*recipetest.Minute), recipetest.Bath(sequence.StopBath, recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute)
	dev.Bath, stop.Bath, fix.Bath = "developer", "stop", "fixer"
	r := recipetest.Recipe(sequence.Hangers, 4, dev, stop, fix)
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 1000, SheetsPerLitre: 100, OneShot: true},
		{ID: "stop", Volume: 1000, Parts: []chem.Part{{Name: "water", Parts: 1}}},
		{ID: "fixer", Volume: 1000, SheetsPerLitre: 16}}
	fresh := func(b RoundsPlan) (list []string) {
		for _, round := range b.Rounds {
			word := ""
			for _, bath := range round.Baths {
				if bath.Fresh {
					word += bath.ID[:1]
				}
			}
			list = append(list, word)
		}
		return list
	}
	old := sequence.OpenBottle{Bath: "fixer", Bottle: "f", SheetsDone: 8, WorkingLife: 100 * time.Hour}
	aged := sequence.OpenBottle{Bath: "fixer", Bottle: "f", Age: 99*time.Hour + 40*time.Minute, WorkingLife: 100 * time.Hour}
	for _, c := range []struct {
		name string
		kept []sequence.OpenBottle
		over int
		want []string
	}{
		{"mixed for the first", nil, 0, []string{"dsf", "ds", "ds"}},
		{"8 of 16 done: two rounds of 4 more", []sequence.OpenBottle{old}, 0, []string{"ds", "ds", "dsf"}},
		{"twenty minutes of its life are left: one round of 16", []sequence.OpenBottle{aged}, 0, []string{"ds", "dsf", "ds"}},
		{"one round is over, and stands in the bottle", []sequence.OpenBottle{old}, 1, []string{"dsf", "ds", "ds"}},
	} {
		b, err := DivideIntoRounds(r, sequence.Conditions{OpenBottles: c.kept}, RoundsOrder{Sheets: 12, Between: 10 * recipetest.Minute, Over: c.over})
		if err != nil {
			t.Fatal(err)
		}
		if got := fresh(b); !slices.Equal(got, c.want) {
			t.Errorf("%s: fresh %q; expected %q", c.name, got, c.want)
		}
	}
}

func TestBatchesRefused(t *testing.T) {
	r := recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 10*recipetest.Minute))
	r.Film.WetLimit.All = 9 * recipetest.Minute
	test := recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 6*recipetest.Minute), recipetest.Bath(sequence.StopBath, recipetest.Minute))
	for code, err := range map[string]error{
		"one-sheet-too-wet": second(DivideIntoRounds(r, sequence.Conditions{}, RoundsOrder{Sheets: 2})),
		"order":             second(DivideIntoRounds(recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, recipetest.Minute)), sequence.Conditions{}, RoundsOrder{})),
		"order-of-test":     second(DivideIntoRounds(test, sequence.Conditions{}, RoundsOrder{Sheets: 2})),
	} {
		refusedAs(t, code, err, code)
	}
}

func second(_ RoundsPlan, err error) error { return err }

// Whatever the recipe: every sheet is in one round, rounds differ by one sheet at most,
// none breaks its limit or asks more of a bath than it serves, none begins before the
// one before is over, and one sheet more at once would have been too many.
func TestBatchesHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, c := recipetest.RandomStack(t)
		c.Sheets = 0
		r.Steps = slices.Clone(r.Steps)
		for i := range r.Steps {
			r.Steps[i].Bath = r.Steps[i].Name
			r.Baths = append(r.Baths, sequence.Bath{ID: r.Steps[i].Name, Volume: 1000,
				SheetsPerLitre: float64(rapid.IntRange(0, 30).Draw(t, "sheets a litre")), WorkingLife: recipetest.Seconds(t, 0, 4000, "keeps")})
		}
		o := RoundsOrder{Sheets: rapid.IntRange(1, 60).Draw(t, "in all"), Between: 5 * recipetest.Minute}
		b, err := DivideIntoRounds(r, c, o)
		if err != nil {
			return
		}
		sum, end, fewest, most := 0, -o.Between, 60, 0
		for _, round := range b.Rounds {
			sum, fewest, most = sum+round.Sheets, min(fewest, round.Sheets), max(most, round.Sheets)
			if round.Start != end+o.Between || round.Margin != nil && *round.Margin < 0 {
				t.Errorf("a round starts at %v, the one before ends at %v; margin %v", round.Start, end, round.Margin)
			}
			end = round.Start + round.Time
			for _, bath := range round.Baths {
				if bath.Capacity > 0 && bath.Served > bath.Capacity && round.Sheets <= bath.Capacity {
					t.Errorf("%s serves %d of %d", bath.ID, bath.Served, bath.Capacity)
				}
			}
		}
		if sum != o.Sheets || most-fewest > 1 || end != b.Total {
			t.Errorf("%d of %d sheets in rounds of %d to %d, in all %v", sum, o.Sheets, fewest, most, b.Total)
		}
	})
}

// Stock for 4.9 sheets serves four, and a fill that would serve 4.9 by its capacity four: a sheet is whole or not
// developed. 98 ml of stock at 20 ml a sheet; 4.9 sheets a litre.
func TestPartOfASheetIsNone(t *testing.T) {
	dev := recipetest.Bath(sequence.Develop, 8*recipetest.Minute)
	dev.Bath = "developer"
	for name, b := range map[string]sequence.Bath{
		"stock":    {ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 98}, {Name: "water", Parts: 902}}, Volume: 1000, StockPerSheet: 20},
		"capacity": {ID: "developer", Volume: 1000, SheetsPerLitre: 4.9},
	} {
		r := recipetest.Recipe(sequence.Hangers, 5, dev)
		r.Baths = []sequence.Bath{b}
		if got := freshCapacity(&r, &r.Baths[0]); got != 4 {
			t.Errorf("%s: %d sheets; expected 4", name, got)
		}
		u := bathUse{recipe: r, state: map[string]*bathAge{}}
		bottle := sequence.OpenBottle{Bath: "developer", Volume: 1000, SheetsPerLitre: 4.9}
		u.draw(&sequence.Plan{Recipe: r, Conditions: sequence.Conditions{OpenBottles: []sequence.OpenBottle{bottle}}}, 0)
		if got := u.state["developer"]; got == nil || got.room != 4 {
			t.Errorf("of a bottle: %+v; expected room for 4", got)
		}
	}
}
