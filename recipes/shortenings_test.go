package recipes_test

// What the shipped recipes propose, to shorten a session that is too long: planned
// again, each saves what it says.

import (
	"testing"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

func TestShippedRecipesShortenAsTheySay(t *testing.T) {
	proposals := 0
	for _, e := range recipes.List("") {
		r, err := recipes.Find(e.Name, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, limit := range []string{"", "5m", "12m", "18m", "25m"} {
			c, err := sequence.RawConditions{WetLimit: limit}.Conditions()
			if err != nil {
				t.Fatal(err)
			}
			p, err := planning.Resolve(r, c)
			if err != nil {
				t.Fatalf("%s: %v", e.Name, err)
			}
			for _, s := range p.Shorten {
				proposals++
				changed, today, ok := planning.ApplyShortening(&p, s)
				if !ok {
					t.Errorf("%s: %s %s %v cannot be carried out", e.Name, s.Code, s.Step, s.Parts)
					continue
				}
				q, err := planning.Resolve(changed, today)
				if err != nil {
					t.Errorf("%s: %s %s: %v", e.Name, s.Code, s.Step, err)
				} else if saved := p.Wet.Total - q.Wet.Total; saved != s.Saves {
					t.Errorf("%s: %s %s says that it saves %v; planned again %v", e.Name, s.Code, s.Step, s.Saves, saved)
				}
			}
		}
	}
	if proposals < 50 {
		t.Errorf("%d proposals; expected many", proposals)
	}
}
