package plan

import (
	"testing"
	"time"

	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

// tested is all that is known of the film of a shipped recipe, in its handling: a test whose sheets had 0.58 at 6:00.
func tested(t *testing.T, recipe string) []film.Known {
	t.Helper()
	plan := open(t, recipe, sequence.RawConditions{}).form.plan
	handling, ok := densities.TestConditionsOf(plan)
	if !ok {
		t.Fatal("the recipe does not develop")
	}
	test := film.Test{Readings: "2026-11-20-plover", Session: "2026-11-20T1900-plover", Day: "2026-11-20"}
	for i, g := range []float64{0.48, 0.58, 0.68} {
		test.Sheets = append(test.Sheets, growthbelief.Reading{Time: []time.Duration{4*time.Minute + 30*time.Second, 6 * time.Minute, 8 * time.Minute}[i], Temperature: 20, Gradient: g, Error: 0.02})
	}
	return []film.Known{{Handling: film.Handling(handling), Tests: []film.Test{test}}}
}

// The film's own time stands beneath the plan's; a key takes it as a factor, and the recipe stays as it was. What
// develops otherwise is offered anew, in another vessel nothing.
func TestTheFilmsOwnTimeIsOffered(t *testing.T) {
	m := openOf(t, &harbour{films: tested(t, "plover-tray")}, "plover-tray", sequence.RawConditions{})
	recipe := m.form.recipe
	d := drive.On(t, m).Hides("Film's time").Done().Shows("Film's time at 20 °C: 6:").Shows("(90%); recipe 7:30.  f takes it")
	d.Golden("filmtime").Fits()
	d.Press("f").Says("the film's own").Done().Shows("Develop 6:").Shows("recipe 7:30.").Hides("takes it")
	now := d.Screen.(Model)
	if now.form.conditions.Factor == "" || now.form.plan.Recipe.Steps[1].Time != recipe.Steps[1].Time {
		t.Errorf("factor %q, the recipe's step %+v", now.form.conditions.Factor, now.form.plan.Recipe.Steps[1])
	}
	d.Press("f") // it is taken already
	if len(d.Actions) > 0 {
		t.Errorf("%+v", d.Actions)
	}
	d.Press("right").Done().Shows("Film's time at 20.5 °C: 5:")
	d.Size(120, 50).Press("i").Shows("For a gradient of 0.58, from 1 test.").Press("i")
	other := drive.On(t, on(t, openOf(t, &harbour{films: tested(t, "plover-tray")}, "plover-tray", sequence.RawConditions{}), "vessel")).Done()
	other.Press("right", "right").Done().Hides("Film's time")
	drive.Asked[screen.Message](other)
}
