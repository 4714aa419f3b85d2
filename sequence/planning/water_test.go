package planning

import (
	"strings"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Water is as warm as the developer where the recipe says nothing of it, and as much.
func TestWaterOfAPlan(t *testing.T) {
	dev := recipetest.At(recipetest.Bath(sequence.Develop, 8*recipetest.Minute), 20, 2.2)
	dev.Bath = "developer"
	cold := recipetest.Bath(sequence.Fix, 5*recipetest.Minute)
	cold.Temperature = &sequence.Temperature{At: 18}
	r := recipetest.Recipe(sequence.Hangers, 4, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute), dev, cold, recipetest.Bath(sequence.Wash, 10*recipetest.Minute), recipetest.Bath(sequence.WettingAgent, recipetest.Minute))
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 1500, Parts: []chem.Part{{Name: "A", Parts: 1}}}}
	p := Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(22)})
	for i, want := range []chem.Celsius{22, 0, 0, 22, 22} {
		if got, ok := WaterAt(p, i); got != want || ok != (want > 0) {
			t.Errorf("%s at %v; expected %v", p.Steps[i].Name, got, want)
		}
	}
	for i, want := range []chem.Celsius{22, 22, 18, 22, 0} { // the wetting agent's nobody says
		got := Summarise(p).Steps[i].Temperature
		if (got != nil) != (want > 0) || got != nil && *got != want {
			t.Errorf("%s: temperature_c %v; expected %v", p.Steps[i].Name, got, want)
		}
	}
	if Fill(p, 3) != 1500 {
		t.Errorf("a wash takes %g ml; expected the developer's 1500", float64(Fill(p, 3)))
	}
	if list := MixedByLabel(p); len(list) != 1 || list[0] != (ByLabel{"wetting agent", 1500}) {
		t.Errorf("mixed by the label: %v; expected a wetting agent", list)
	}
}

// Every plan with a bath that is more than water says what any such place needs.
func TestWorkplaceCautions(t *testing.T) {
	r := recipetest.FourInHangers()
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
		r.Baths = []sequence.Bath{{ID: "developer"}}
		for _, name := range c.parts {
			r.Baths[0].Parts = append(r.Baths[0].Parts, chem.Part{Name: name, Parts: 1})
		}
		p := Resolved(t, r, sequence.Conditions{})
		for _, told := range []string{"eye-rinse", "labels", "no-food", "mixing-order"} {
			if got := code(p, told) == sequence.Note; got != strings.Contains(c.codes, told) {
				t.Errorf("%s: %s is said: %v", c.name, told, got)
			}
		}
	}
}
