package say

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// At 70 °F: US Army SS0509 pp. 18, 24 (rinse 0:30, aid 2:00, wash 5:00; 30:00 without) and
// NAVEDTRA 14209 p. 250 (each change three minutes).
func TestWashMethods(t *testing.T) {
	ways, _ := chem.WashMethods(chem.FromFahrenheit(70), 3)
	want := map[string]string{
		"with a washing aid":    "rinse 0:30, washing aid 2:00, wash 5:00",
		"in running water":      "a full change each 3:00; half the fixer goes each minute that fresh water touches the film",
		"without a washing aid": "wash 30:00",
		"fill and dump":         "3 changes, each standing 3:00: gelatin gives up its fixer in minutes",
	}
	for _, w := range ways {
		name, text := WashMethod(w)
		if want[name] != text {
			t.Errorf("%s: %q; want %q", name, text, want[name])
		}
		delete(want, name)
	}
	if len(want) > 0 {
		t.Errorf("missing %v", want)
	}
}

// Without a fixer before it a wash is told as it is done, every 3 min and a little (NAVEDTRA 14209 p. 250: a full
// change each three minutes); after one it is told to which residual, and what less would take.
func TestWashing(t *testing.T) {
	steps := []sequence.Step{recipetest.Bath(sequence.Develop, 8*mins), recipetest.Bath(sequence.Wash, 10*mins)}
	r := recipetest.Recipe(sequence.Hangers, 4, steps...)
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 1500, Parts: []chem.Part{{Name: "A", Parts: 1}}}}
	p := planOf(t, r, sequence.Conditions{})
	same(t, Washing(p, 1, celsius), "3 changes of 1.5 L, one every 3:20")
	same(t, Washing(p, 0, celsius), "")
	fix := recipetest.Bath(sequence.Fix, 5*mins)
	steps[0].RoomLight, fix.RoomLight = sequence.Dark, sequence.Dark
	r.Steps = []sequence.Step{steps[0], fix, steps[1]}
	p = planOf(t, r, sequence.Conditions{})
	if got := Washing(p, 2, celsius); !strings.Contains(got, "leaves at most ") || !strings.HasSuffix(got, ", not enough for film use (0.1 g/m²)") {
		t.Error(got)
	}
	better := BetterWashes(p, 2, celsius)
	if len(better) != 2 || !strings.HasSuffix(better[0], " in running water (a full change every 3 min)") || !strings.Contains(better[0], "; 36 CFR 1238.14(c) (0.014 g/m²) ") ||
		!strings.HasPrefix(better[1], "after a rinse of 0:30 and a washing aid for 2:00: film use (0.1 g/m²) ") {
		t.Errorf("%q", better)
	}
	r.Steps = []sequence.Step{steps[0], fix, recipetest.Bath(sequence.WashingAid, 2*mins), steps[1]}
	if got := Washing(planOf(t, r, sequence.Conditions{}), 3, celsius); !strings.Contains(got, ", enough for 36 CFR 1238.14(c) (0.014 g/m²); running water, all of it new every 3:20, leaves at most ") {
		t.Error(got)
	}
	if got := BetterWashes(planOf(t, r, sequence.Conditions{}), 3, celsius); got != nil {
		t.Errorf("%q", got) // nothing is missed
	}
}

// The verdict is by the limits: 0.1, 0.03 and 0.014 g/m² themselves are within; a residual is rounded up, so
// that what is over a limit never reads as the limit.
func TestWashVerdict(t *testing.T) {
	same(t, WashVerdict(0.014), "enough for 36 CFR 1238.14(c) (0.014 g/m²)")
	same(t, WashVerdict(0.0141), "enough for archival use (0.03 g/m²), not for 36 CFR 1238.14(c) (0.014 g/m²)")
	same(t, WashVerdict(0.031), "enough for film use (0.1 g/m²), not for archival use (0.03 g/m²)")
	same(t, WashVerdict(0.11), "not enough for film use (0.1 g/m²)")
	same(t, Residual(0.0141), "0.015 g/m²")
	same(t, Residual(0.014), "0.014 g/m²")
	same(t, Residual(1e-9), "under 0.0005 g/m²")
	same(t, FractionLeft(0.0004), "0.0004")
	same(t, FractionLeft(9e-6), "under 1/100,000")
	same(t, WashSchedule(chem.WashSchedule{Changes: 4, Stand: 90 * time.Second, Wet: 440 * time.Second, Water: 6000}, celsius), "4 changes of 1.5 L standing 1:30, 7:20 in all, 6 L")
}
