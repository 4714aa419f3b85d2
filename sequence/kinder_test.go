package sequence

import "testing"

// What is kind besides, for a stack over its limit whose developer is 4 K over the
// recipe's 20 C: a hardening bath, which takes nothing off; and cooler baths, which make
// six minutes at 24 C (coefficient 2.2: 8:13 at 20 C) as long as the recipe has them.
func TestKinder(t *testing.T) {
	r := recipeOf(Tray, 2, bathFor(Presoak, mins).shuffled(), bathFor(Develop, 8*mins).shuffled().at(20, 2.2), bathFor(Fix, 5*mins).shuffled())
	r.Film.WetLimit = WetLimit{All: 10 * mins}
	p := resolved(t, r, Conditions{Temp: degrees(24)})
	list := p.Kinder()
	if len(list) != 2 || list[0].Code != "hardener" || list[1].Code != "cooler" {
		t.Fatalf("kind besides: %+v", list)
	}
	if list[0].Saves != 0 || *list[0].Margin != *p.Wet.Margin {
		t.Errorf("a hardening bath saves %v and leaves %v; expected no change", list[0].Saves, *list[0].Margin)
	}
	cooled := totalWet(r, Conditions{Temp: degrees(20)}) - totalWet(r, Conditions{Temp: degrees(24)})
	if off := (cooled + list[1].Saves).Abs(); cooled < 2*mins || off > 10*1000 {
		t.Errorf("cooler baths save %v; the second account has them %v longer", list[1].Saves, cooled)
	}
	for _, s := range append(p.Shorten, list...) {
		if s.Price == "" || s.Caution == "" && s.Code == "hardener" {
			t.Errorf("%s has no price, or no caution", s.Code)
		}
		if s.Code == "warmer" {
			t.Error("warmer is proposed at 24 C")
		}
	}
	if p = resolved(t, r, Conditions{Temp: degrees(20)}); len(p.Kinder()) != 1 {
		t.Errorf("at the recipe's own temperature: %+v; expected no cooler baths", p.Kinder())
	}
	r.Film.WetLimit.All = 60 * mins
	if p = resolved(t, r, Conditions{Temp: degrees(24)}); len(p.Kinder()) != 0 {
		t.Errorf("with an hour to spare: %+v", p.Kinder())
	}
	r.Film.WetLimit = WetLimit{}
	if p = resolved(t, r, Conditions{Temp: degrees(24)}); len(p.Kinder()) != 0 {
		t.Errorf("without a limit: %+v", p.Kinder())
	}
}

// A film whose limit is known for trays and for single trays goes into these.
func TestIntoSingleTrays(t *testing.T) {
	r := recipeOf(Tray, 4, bathFor(Develop, 8*mins).shuffled(), bathFor(Fix, 5*mins).shuffled(), bathFor(Wash, 10*mins).shuffled().lit(White))
	for other, want := range map[Vessel]Vessel{Single: Single, Hangers: Hangers, Cradle: Hangers} {
		r.Film.WetLimit = WetLimit{ByVessel: map[Vessel]Elapsed{Tray: 18 * mins, other: 60 * mins}}
		p := planOf(t, r, Conditions{})
		c, ok := p.propose("vessel", "wash")
		if !ok {
			t.Fatalf("%s: not proposed", other)
		}
		changed, _ := c.made()
		if got := changed.Steps[2].Vessel; got != want {
			t.Errorf("a limit for %s: into %s; expected %s", other, got, want)
		}
		n := begun(t, p, 0)
		n.do(Wake{}, 10*mins)
		if a, ok := n.s.Advise(10 * mins); other != Cradle && (!ok || a.Do != IntoHangers || a.In != want) {
			t.Errorf("a limit for %s: advised %+v", other, a)
		}
	}
}
