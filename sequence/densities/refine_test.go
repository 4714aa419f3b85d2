package densities

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

func TestRefine(t *testing.T) {
	r := sessiontest.Recipe(sequence.Hangers, 4, sessiontest.Warmed(recipetest.Bath(sequence.Develop, 0)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute))
	r.Title = FilmTestTitle + "Plover 80"
	r.Film.ExposureIndex = 40
	r.Load.Names = []string{"no corner", "one corner", "two corners", "three corners"}
	r.Steps[0].PullTimes, r.Steps[0].Bath = []sequence.Elapsed{4 * recipetest.Minute, 7 * recipetest.Minute, 10 * recipetest.Minute, 16 * recipetest.Minute}, "developer"
	before := fmt.Sprintf("%+v", r)
	box, _ := curve.ParseExposed("EI 50 +4")
	found := FilmTestResult{Results: results(t, &box), Wanted: curve.PrintConditionsFor(0.6), Source: "session s, readings x.csv", Day: sessiontest.Evening}
	got, err := Refine(r, found)
	if err != nil {
		t.Fatal(err)
	}
	if after := fmt.Sprintf("%+v", r); after != before {
		t.Errorf("the recipe that it started from was changed: %s", after)
	}
	st := got.Steps[0]
	// N: t = -ln(1 - 0.6/1.2)/0.1 = 6.93 min, to five seconds (straight curves have an
	// average gradient next to their slope)
	if st.Time != 0 || st.PullTimes != nil || len(st.Times) < 3 || st.Temperature.Coefficient != 2 {
		t.Fatalf("develop %+v", st)
	}
	for i, n := range st.Times {
		if n.Name == "N" && (n.Time-416*recipetest.Second).Abs() > 8*recipetest.Second || n.Time%(5*recipetest.Second) != 0 || i > 0 && n.Time <= st.Times[i-1].Time {
			t.Errorf("times %+v", st.Times)
		}
	}
	if g := st.Growth; g == nil || math.Abs(g.Limit-1.2) > 0.03 || math.Abs(g.K-0.1) > 0.005 || g.From != found.Source ||
		g.Film != "Plover 80" || g.Developer != "part A 1 + water 60" || g.Vessel != sequence.Hangers {
		t.Errorf("growth %+v", st.Growth)
	}
	// the meter asked for log H -1.204; the speed point is near -2.3 + 0.1/0.6 = -2.13:
	// 0.93 below, so the film is 10^-0.07 slower... 50 x 10^(-2.204 + 2.13) = 42: 40
	if got.Film.ExposureIndex != 40 || strings.Contains(got.About, "not measured") {
		t.Errorf("index %g, %q", got.Film.ExposureIndex, got.About)
	}
	if a := st.Aim; a == nil || *a != (sequence.Aim{Average: 0.6}) {
		t.Errorf("aim %+v", st.Aim)
	}
	if got.Load.Names != nil {
		t.Errorf("sheets %q: they told those of the test apart", got.Load.Names)
	}
	if got.Title != "Plover 80, tested 2026-11-25" || !strings.Contains(got.About, "session s, readings x.csv") {
		t.Errorf("title %q, about %q", got.Title, got.About)
	}
	if p, err := planning.Resolve(got, sequence.Conditions{Development: "N"}); err != nil || len(p.Cautions) > 0 && p.Cautions[0].Code == "curve-elsewhere" {
		t.Errorf("%+v, %v; expected a plan without curve-elsewhere", p.Cautions, err)
	}
	kept := got
	kept.Load.Names = []string{"3A", "3B", "4A", "4B"}
	if kept, err = Refine(kept, found); err != nil || len(kept.Load.Names) != 4 {
		t.Errorf("sheets %q, %v; expected those of a recipe that is no film test", kept.Load.Names, err)
	}
	named := r
	named.Title = "Plover 80, film test with four times"
	if named, err = Refine(named, found); err != nil || named.Title != "Plover 80, tested 2026-11-25" {
		t.Errorf("title %q, %v", named.Title, err)
	}
	again, err := Refine(got, found)
	if err != nil || again.Title != got.Title {
		t.Errorf("refined again it is %q, %v", again.Title, err)
	}
}

func TestRefineSaysWhatItDoesNotKnow(t *testing.T) {
	r := sessiontest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute))
	r.Film.ExposureIndex = 40
	found := FilmTestResult{Results: results(t, nil), Wanted: curve.PrintConditionsFor(0.6), Day: sessiontest.Evening,
		Conditions: &TestConditions{Film: "Plover 80", Developer: "stock 1", Vessel: sequence.Drum}}
	got, err := Refine(r, found)
	if err != nil || got.Film.ExposureIndex != 40 || !strings.Contains(got.About, "not measured") {
		t.Errorf("index %g, %q, %v", got.Film.ExposureIndex, got.About, err)
	}
	if g := got.Steps[0].Growth; g.Vessel != sequence.Drum || g.Developer != "stock 1" {
		t.Errorf("growth %+v; expected it to belong to where it was tested", g)
	}
	if got.Load.Vessel != sequence.Drum || !strings.Contains(got.Title, "in a drum") || !strings.Contains(got.About, "in a drum, as in the test") {
		t.Errorf("%s: %s, %s; expected the drum that was used", got.Load.Vessel, got.Title, got.About)
	}
	r.Title, r.Load.Vessel, r.Steps[0].Agitate = "Plover 80, in open trays", sequence.Tray, sequence.Agitation{Mode: sequence.Shuffle}
	pattern := sequence.Agitation{Mode: sequence.Pattern, Initial: recipetest.Minute, For: 10 * recipetest.Second, Every: recipetest.Minute}
	found.Conditions = &TestConditions{Film: "Plover 80", Vessel: sequence.Hangers, Agitate: pattern}
	got, err = Refine(r, found)
	if err != nil || got.Load.Vessel != sequence.Hangers || !reflect.DeepEqual(got.Steps[0].Agitate, pattern) || got.Title != "Plover 80, in hangers, tested 2026-11-25" {
		t.Errorf("%s %q %+v, %v; expected what was done in the session", got.Load.Vessel, got.Title, got.Steps[0].Agitate, err)
	}
	if p, err := planning.Resolve(got, sequence.Conditions{}); err != nil || slices.ContainsFunc(p.Cautions, func(c sequence.Caution) bool { return c.Code == "curve-elsewhere" }) {
		t.Errorf("%v, %+v", err, p.Cautions)
	}
	r.Load.Vessel, r.Steps[0].Agitate = sequence.Hangers, sequence.Agitation{}
	found.Conditions, found.Film = nil, "Plover 200"
	if got, err = Refine(r, found); err != nil || got.Steps[0].Growth.Film != "Plover 200" {
		t.Errorf("%+v, %v; expected the film that was tested", got.Steps[0].Growth, err)
	}
	for name, bad := range map[string]func(*sequence.Recipe, *FilmTestResult){
		"beyond the test": func(_ *sequence.Recipe, f *FilmTestResult) { f.Wanted = curve.PrintConditionsFor(1.1) },
		"nothing wanted":  func(_ *sequence.Recipe, f *FilmTestResult) { f.Wanted = curve.PrintConditions{} },
		"no growth":       func(_ *sequence.Recipe, f *FilmTestResult) { f.Results = curve.Results{} },
		"no developer":    func(r *sequence.Recipe, _ *FilmTestResult) { r.Steps = r.Steps[1:] },
	} {
		r, f := r, found
		bad(&r, &f)
		if _, err := Refine(r, f); err == nil {
			t.Errorf("%s: a recipe was made", name)
		}
	}
}

// A recipe's times are whole 5 s: 392 s are 6:30, 393 s are 6:35.
func TestTimesOfARecipeAreWholeFiveSeconds(t *testing.T) {
	for seconds, want := range map[float64]sequence.Elapsed{392: 390e9, 393: 395e9, 397: 395e9} {
		if got := roundedTime(curve.Target{Time: seconds}); got != want {
			t.Errorf("%g s: %v; expected %v", seconds, got, want)
		}
	}
}
