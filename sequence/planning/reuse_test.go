package planning

// Developers that are used again: what their bottles' histories do to a plan.

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// reusable is a recipe of four sheets in hangers, 10 min at 20 °C in a litre of developer.
func reusable(reuse *chem.Reuse) sequence.Recipe {
	dev, fix := recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2), recipetest.Bath(sequence.Fix, 5*recipetest.Minute)
	dev.Bath, fix.Bath = "developer", "fixer"
	r := recipetest.Recipe(sequence.Hangers, 4, dev, fix)
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 1000, SheetsPerLitre: 20, Reuse: reuse}, {ID: "fixer", Volume: 1000}}
	return r
}

func usedFor(sheets float64, added chem.Millilitres) sequence.Conditions {
	return sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "developer", Bottle: "dev-1", Volume: 1000, SheetsDone: sheets, Replenished: added}}}
}

func codes(p *sequence.Plan) map[string]sequence.Caution {
	m := map[string]sequence.Caution{}
	for _, c := range p.Cautions {
		m[c.Code] = c
	}
	return m
}

// Five sheets in a litre at 2% each are 10%: 11 min; ten degrees warmer, at twice the speed, half of that. Half of what
// it adds is in doubt: 5% of 11 min is 1/22.
func TestReuseLengthensDeveloping(t *testing.T) {
	r := reusable(&chem.Reuse{Longer: 0.02})
	p := Resolved(t, r, usedFor(5, 0))
	if st := &p.Steps[0]; st.Given != 11*recipetest.Minute || st.Base != 10*recipetest.Minute || st.Fresh(st.Dose) != 10*recipetest.Minute || p.Steps[1].Given != 5*recipetest.Minute {
		t.Errorf("%v of %v, fresh %v; fixed for %v", st.Given, st.Base, st.Fresh(st.Dose), p.Steps[1].Given)
	}
	if c := codes(p)["reused"]; c.Level != sequence.Note || c.Bottle != "dev-1" || c.Done != 5 || math.Abs(c.Factor-1.1) > 1e-12 {
		t.Errorf("%+v", c)
	}
	if b := ErrorBudgets(p)[0]; math.Abs(b.Reuse-0.05/1.1) > 1e-12 {
		t.Errorf("in doubt: %g", b.Reuse)
	}
	if chosen := AsChosen(p); chosen.Steps[0].Time != 10*recipetest.Minute {
		t.Errorf("written as %v: a bottle's history is no choice", chosen.Steps[0].Time)
	}
	named := reusable(&chem.Reuse{Longer: 0.02})
	named.Steps[0].Times, named.Steps[0].Time = []sequence.NamedTime{{Name: "N", Time: 10 * recipetest.Minute}, {Name: "N+1", Time: 13 * recipetest.Minute}}, 0
	if chosen := AsChosen(Resolved(t, named, usedFor(5, 0))); len(chosen.Steps[0].Times) != 2 {
		t.Errorf("written with %v: a bottle's history chooses no development", chosen.Steps[0].Times)
	}
	c := usedFor(5, 0)
	c.BathTemperature, c.Factor = recipetest.Degrees(30), 1.2
	if warm := Resolved(t, r, c); warm.Steps[0].Given != 396*recipetest.Second { // 10 min x 1.2 x 1.1 / 2
		t.Errorf("at 30 °C pushed %v; expected 6:36", warm.Steps[0].Given)
	}
}

func TestReuseEnds(t *testing.T) {
	table := &chem.Reuse{Table: [][2]float64{{4, 1.1}, {8, 1.25}}}
	if c := codes(Resolved(t, reusable(table), usedFor(8, 0))); c["spent"].Level != sequence.Danger || c["spent"].Serves != 8 {
		t.Errorf("at the table's end: %+v", c)
	}
	if c := codes(Resolved(t, reusable(table), usedFor(6, 0))); c["capacity"].Serves != 8 || c["capacity"].Level != sequence.Care {
		t.Errorf("six and four more of eight: %+v", c)
	}
	if c := codes(Resolved(t, reusable(&chem.Reuse{Longer: 0.2}), usedFor(6, 0))); c["reuse-end"].Level != sequence.Danger {
		t.Errorf("more than twice as long: %+v", c)
	}
}

// 20 ml for each sheet: after six sheets and 100 ml there are 20 ml to come, and one sheet lengthens.
func TestReplenisher(t *testing.T) {
	r := reusable(&chem.Reuse{Longer: 0.03, Replenish: 20})
	p := Resolved(t, r, usedFor(6, 100))
	if c := codes(p)["replenish"]; c.Level != sequence.Care || math.Abs(float64(c.Volume-20)) > 1e-9 || p.Steps[0].Given != 618*recipetest.Second {
		t.Errorf("%v, %+v", p.Steps[0].Given, c)
	}
	if p := Resolved(t, r, usedFor(6, 120)); p.Steps[0].Given != 10*recipetest.Minute || codes(p)["replenish"].Code != "" || p.Steps[0].Reused != nil {
		t.Errorf("all made up for: %v", p.Steps[0].Given)
	}
}

// Of twelve sheets in rounds of four each round is 2% a sheet longer than the one before, until the developer for
// ten sheets is mixed fresh.
func TestReuseInRounds(t *testing.T) {
	r := reusable(&chem.Reuse{Longer: 0.02})
	r.Baths[0].SheetsPerLitre = 10
	b, err := DivideIntoRounds(r, sequence.Conditions{}, RoundsOrder{Sheets: 12, Between: recipetest.Minute})
	if err != nil || len(b.Rounds) != 3 {
		t.Fatal(b, err)
	}
	for i, want := range []sequence.Elapsed{15 * recipetest.Minute, 15*recipetest.Minute + 48*recipetest.Second, 15 * recipetest.Minute} {
		if got := b.Rounds[i]; got.Time != want || got.Baths[0].Fresh != (i != 1) {
			t.Errorf("round %d: %v, fresh %v; expected %v", i+1, got.Time, got.Baths[0].Fresh, want)
		}
	}
	// a bottle that has done four already: the first round is the second's length, the second wants it fresh
	kept, err := DivideIntoRounds(r, usedFor(4, 0), RoundsOrder{Sheets: 8, Between: recipetest.Minute})
	if err != nil || kept.Rounds[0].Time != b.Rounds[1].Time || kept.Rounds[1].Time != b.Rounds[0].Time {
		t.Errorf("%+v, %v", kept.Rounds, err)
	}
}

// Where a recipe says nothing of using its baths again, no bottle's history changes a time, to the bit; and a fresh
// bottle's plan is that of the recipe without reuse.
func TestWithoutReuseNothingChanges(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r, c := recipetest.RandomStack(rt)
		r.Baths = []sequence.Bath{{ID: "developer", Volume: 1000, SheetsPerLitre: 8}}
		for i := range r.Steps {
			if r.Steps[i].Kind == sequence.Develop {
				r.Steps[i].Bath = "developer"
			}
		}
		bare, err := Resolve(r, c)
		if err != nil {
			return
		}
		c.OpenBottles = []sequence.OpenBottle{{Bath: "developer", Bottle: "dev-1", Volume: 1000, SheetsDone: rapid.Float64Range(0, 20).Draw(rt, "done")}}
		same := func(what string, r sequence.Recipe) {
			p, err := Resolve(r, c)
			if err != nil || !reflect.DeepEqual(p.Steps, bare.Steps) || !reflect.DeepEqual(p.Cues, bare.Cues) || !reflect.DeepEqual(p.Passages, bare.Passages) {
				rt.Fatalf("%s: another plan (%v)", what, err)
			}
		}
		same("without reuse", r)
		r.Baths[0].Reuse, c.OpenBottles[0].SheetsDone = &chem.Reuse{Longer: 0.1}, 0
		same("fresh", r)
	})
}
