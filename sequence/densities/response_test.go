package densities

import (
	"math"
	"os"
	"testing"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// straight is a film on straight lines, D = 0.10 + (1 - exp(-t/10 min)) (log H + 2).
func straight(t *testing.T) (curve.Family, curve.Results, Response) {
	t.Helper()
	const name = "../../chem/response/testdata/straight.csv"
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	f, err := curve.Read(name, data, curve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	q := curve.Request{Absolute: true}
	r, err := curve.Evaluate(f, q)
	if err != nil {
		t.Fatal(err)
	}
	s, err := ResponseOf(f, r, q)
	if err != nil {
		t.Fatal(err)
	}
	return f, r, s
}

// sevenStops is the guide's worked example: 9.07 min, its shadow at -1.832, index 125.
var sevenStops = sequence.Aim{Print: &sequence.PrintAim{Paper: 1.05, Subject: 7 * math.Log10(2), Flare: 0.4, Shadow: sequence.UsualShadow,
	Placed: sequence.UsualPlaced, Enlarger: sequence.Diffuse}}

// A recipe has the time, the index and the aim, so that the next one can go on from there.
func TestAPrintBecomesARecipe(t *testing.T) {
	_, results, s := straight(t)
	met, err := s.Meet(sevenStops)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(met.Time.Minutes()/9.07-1) > 0.01 || math.Abs(met.Shadow+1.832) > 0.005 || met.Index == nil || *met.Index != 125 {
		t.Fatalf("%v, shadow %.3f, index %v", met.Time, met.Shadow, met.Index)
	}
	r := sessiontest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute))
	got, err := Refine(r, FilmTestResult{Results: results, Aimed: met.Aimed(), Source: "readings straight.csv", Day: sessiontest.Evening})
	if err != nil {
		t.Fatal(err)
	}
	a := got.Steps[0].Aim
	if a == nil || a.Print == nil || a.Print.Subject != 2.107 || a.Print.Paper != 1.05 || a.Print.Placed != -3.333 || got.Film.ExposureIndex != 125 {
		t.Errorf("aim %+v, index %g", a, got.Film.ExposureIndex)
	}
	found := false
	for _, n := range got.Steps[0].Times {
		found = found || n.Name == "N" && n.Time == sequence.Elapsed(math.Round(met.Time.Seconds()/5))*5*recipetest.Second
	}
	if !found {
		t.Errorf("times %+v", got.Steps[0].Times)
	}
	// by an average gradient and by a contrast index, which on a line from the base are one: 1 - exp(-t/10) = 0.58
	for _, aim := range []sequence.Aim{{Average: 0.58}, {Contrast: 0.58}} {
		if met, err = s.Meet(aim); err != nil || math.Abs(met.Time.Minutes()/8.675-1) > 0.01 {
			t.Errorf("%+v: %v, %v", aim, met.Time, err)
		}
	}
	if got, err = Refine(r, FilmTestResult{Results: results, Aimed: met.Aimed(), Day: sessiontest.Evening}); err != nil || got.Steps[0].Aim.Contrast != 0.58 || got.Steps[0].Time == 0 {
		t.Errorf("%+v, %v", got.Steps[0], err)
	}
}
