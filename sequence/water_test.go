package sequence

import (
	"strings"
	"testing"

	"example.org/wetside/chem"
)

// Water is as warm as the developer where the recipe says nothing of it; a wash says how
// often it is changed (NAVEDTRA 14209 p. 250: each three minutes) and with how much.
func TestWaterOfAPlan(t *testing.T) {
	dev := bathFor(Develop, 8*mins).at(20, 2.2)
	dev.Bath = "developer"
	cold := bathFor(Fix, 5*mins)
	cold.Temperature = &Temperature{At: 18}
	r := recipeOf(Hangers, 4, bathFor(Presoak, 2*mins), dev, cold, bathFor(Wash, 10*mins), bathFor(Wetting, mins))
	r.Baths = []Bath{{ID: "developer", Volume: 1500, Parts: []chem.Part{{Name: "A", Parts: 1}}}}
	p := resolved(t, r, Conditions{Temp: degrees(22)})
	for i, want := range []chem.Celsius{22, 0, 0, 22, 22} {
		if got, ok := p.WaterAt(i); got != want || ok != (want > 0) {
			t.Errorf("%s at %v; expected %v", p.Steps[i].Name, got, want)
		}
	}
	if got := p.Washing(3, Habits{}); !strings.Contains(got, "running water") || !strings.Contains(got, "3 changes of 1.5l") {
		t.Errorf("a wash of ten minutes: %q; expected running water, or three changes of 1.5 l", got)
	}
	if got := p.Washing(2, Habits{}); got != "" {
		t.Errorf("a fixer is washed: %q", got)
	}
	if list := p.MixedByLabel(); len(list) != 1 || list[0] != (ByLabel{"wetting agent", 1500}) {
		t.Errorf("mixed by the label: %v; expected a wetting agent", list)
	}
}

// Every plan with a bath that is more than water says what any such place needs.
func TestWorkplaceCautions(t *testing.T) {
	r := hung()
	for _, c := range []struct {
		name  string
		parts []string
		codes string
	}{
		{"water", []string{"water"}, ""},
		{"liquids", []string{"A", "water"}, "eye-rinse labels no-food"},
		{"dry", []string{"metol", "sulphite", "hydroquinone", "water"}, "eye-rinse labels no-food mixing-order"},
		{"dry, without metol", []string{"sulphite", "water"}, "eye-rinse labels no-food"},
	} {
		r.Baths = []Bath{{ID: "developer"}}
		for _, name := range c.parts {
			r.Baths[0].Parts = append(r.Baths[0].Parts, chem.Part{Name: name, Parts: 1})
		}
		p := resolved(t, r, Conditions{})
		for _, told := range []string{"eye-rinse", "labels", "no-food", "mixing-order"} {
			if got := code(p, told) == Note; got != strings.Contains(c.codes, told) {
				t.Errorf("%s: %s is said: %v", c.name, told, got)
			}
		}
	}
	order := MixingOrder([]chem.Part{{Name: "hydroquinone"}, {Name: "sulphite"}, {Name: "metol"}, {Name: "water"}})
	at := func(s string) int { return strings.Index(order, s) }
	if pinch, metol, rest, other := at("a pinch of the sulphite"), at("the metol"), at("the rest of the sulphite"), at("the hydroquinone"); pinch < 0 || !(pinch < metol && metol < rest && rest < other) {
		t.Errorf("%q; expected a pinch of sulphite, metol, the rest", order)
	}
}
