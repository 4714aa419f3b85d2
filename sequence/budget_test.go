package sequence

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
)

// budgetRecipe is one developing step of ten minutes at 20 C.
func budgetRecipe() Recipe {
	return Recipe{Title: "Tern", Film: Film{Name: "Tern", Sensitivity: Pan, WetWarning: 3 * time.Minute},
		Load: Load{Vessel: Hangers, Sheets: 1, Size: Size{"4x5in", 4, 5}, LoadEvery: 15 * time.Second, TurnEvery: 10 * time.Second, MoveEvery: 10 * time.Second},
		Steps: []Step{
			{Name: "develop", Kind: Develop, Time: 10 * time.Minute, RoomLight: Dark, Temperature: &Temperature{At: 20, Coefficient: 2.2}},
			{Name: "fix", Kind: Fix, Time: 5 * time.Minute, RoomLight: Dark, Temperature: &Temperature{At: 20}}}}
}

// By hand: 2.2^(0.5/10) - 1 = 0.0402, 10 s of 600 s = 0.0167, and the root of
// 0.0402^2 + 0.0167^2 + 0.05^2 = 0.0663.
func TestBudgetByHand(t *testing.T) {
	p, err := Resolve(budgetRecipe(), Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	b := p.Budgets()
	if len(b) != 1 {
		t.Fatalf("%d budgets; expected the developing step's alone", len(b))
	}
	for name, x := range map[string][2]float64{"half a degree": {b[0].HalfDegree, 0.0402}, "ten seconds": {b[0].TenSeconds, 0.0167},
		"agitation": {b[0].Agitation, 0.05}, "together": {b[0].Together, 0.0663}} {
		if math.Abs(x[0]-x[1]) > 0.0001 {
			t.Errorf("%s: %.5f; expected %.4f", name, x[0], x[1])
		}
	}
}

// A bath that starts where the note says gives the recipe's time to the
// millisecond, by planning anew.
func TestStartForADriftingBath(t *testing.T) {
	towards := chem.Celsius(17)
	for _, ago := range []time.Duration{0, 5 * time.Minute} {
		c := Conditions{Towards: &towards, Drift: 40 * time.Minute, ReadBefore: ago}
		twenty := chem.Celsius(20)
		c.Temp = &twenty
		p, err := Resolve(budgetRecipe(), c)
		if err != nil {
			t.Fatal(err)
		}
		at, ok := p.startFor(0)
		if !ok || at <= 20 {
			t.Fatalf("start at %v, %v; expected above 20 C, for the bath cools", at, ok)
		}
		c.Temp = &at
		p, err = Resolve(budgetRecipe(), c)
		if err != nil {
			t.Fatal(err)
		}
		if off := (p.Steps[0].Given - 10*time.Minute).Abs(); off > time.Millisecond {
			t.Errorf("read %v ago: started at %.3f C it takes %v", ago, float64(at), p.Steps[0].Given)
		}
	}
}

func TestColdCautions(t *testing.T) {
	has := func(code string, r Recipe, c Conditions) bool {
		p, err := Resolve(r, c)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range p.Cautions {
			if x.Code == code && strings.Contains(x.Text, ":") {
				return true
			}
		}
		return false
	}
	cold := budgetRecipe()
	cold.Steps[1].Temperature = &Temperature{At: 10} // 50 F: twice as long (TM 11-2323)
	if !has("cold-fix", cold, Conditions{}) || has("cold-fix", budgetRecipe(), Conditions{}) {
		t.Error("fixing at 10 C should be cautioned, at 20 C not")
	}
	for at, want := range map[chem.Celsius]bool{12.9: true, 13: false} {
		if has("cold-developer", budgetRecipe(), Conditions{Temp: &at}) != want {
			t.Errorf("developer at %v C: cold-developer expected %v", at, want)
		}
	}
}
