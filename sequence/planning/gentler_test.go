package planning

import (
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// What is kind besides, for a stack over its limit whose developer is 4 K over the
// recipe's 20 C: a hardening bath, which takes nothing off; and cooler baths, which make
// six minutes at 24 C (coefficient 2.2: 8:13 at 20 C) as long as the recipe has them.
func TestKinder(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, recipetest.Minute)), recipetest.At(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 8*recipetest.Minute)), 20, 2.2), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)))
	r.Film.WetLimit = sequence.WetLimit{All: 10 * recipetest.Minute}
	p := Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(24)})
	list := Gentler(p)
	if len(list) != 2 || list[0].Code != "hardener" || list[1].Code != "cooler" {
		t.Fatalf("kind besides: %+v", list)
	}
	if list[0].Saves != 0 || *list[0].Margin != *p.Wet.Margin {
		t.Errorf("a hardening bath saves %v and leaves %v; expected no change", list[0].Saves, *list[0].Margin)
	}
	cooled := totalWet(r, sequence.Conditions{BathTemperature: recipetest.Degrees(20)}) - totalWet(r, sequence.Conditions{BathTemperature: recipetest.Degrees(24)})
	if off := (cooled + list[1].Saves).Abs(); cooled < 2*recipetest.Minute || off > 10*1000 {
		t.Errorf("cooler baths save %v; the second account has them %v longer", list[1].Saves, cooled)
	}
	for _, s := range append(p.Shorten, list...) {
		if s.Code == "warmer" {
			t.Error("warmer is proposed at 24 C")
		}
	}
	if p = Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(20)}); len(Gentler(p)) != 1 {
		t.Errorf("at the recipe's own temperature: %+v; expected no cooler baths", Gentler(p))
	}
	r.Film.WetLimit.All = 60 * recipetest.Minute
	if p = Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(24)}); len(Gentler(p)) != 0 {
		t.Errorf("with an hour to spare: %+v", Gentler(p))
	}
	r.Film.WetLimit = sequence.WetLimit{}
	if p = Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(24)}); len(Gentler(p)) != 0 {
		t.Errorf("without a limit: %+v", Gentler(p))
	}
}
