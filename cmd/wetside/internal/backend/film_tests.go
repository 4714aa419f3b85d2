package backend

// Film tests, for the screens.

import (
	"errors"
	"fmt"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/filmtest"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	screen "example.org/wetside/tui/screen/filmtest"
)

// filmTests are made of recipes and forecast.
type filmTests struct{}

// FilmTest is a recipe made into a film test.
func (filmTests) FilmTest(r sequence.Recipe, o screen.Order) (screen.Made, error) {
	x := filmtest.Options{Sheets: o.Sheets, Guess: o.Guess, Vessel: string(o.Vessel), StraightOn: o.StraightOn, Proposed: o.Proposed}
	t, err := x.Make(r, app.Films().Collect(r.Film.Name))
	if err != nil {
		return screen.Made{}, withoutFlagDashes(err)
	}
	test, plan := t.Recipe, t.Plan
	if m := plan.Wet.Margin; m != nil && *m < 0 {
		return screen.Made{}, fmt.Errorf("wet for %s, %s over the limit of the film %s; fewer sheets, another vessel or a shorter guess", sequence.FormatElapsed(plan.Wet.Total), sequence.FormatElapsed(-*m), plan.Vessel.In())
	}
	told := append([]string{filmtest.PullTimesText(&plan, t.Times)}, t.Notes...)
	for _, part := range []string{filmtest.ContactPrintText, filmtest.MarkingText, say.HowToClip(o.Sheets)} {
		told = append(told, strings.Join(strings.Fields(part), " "))
	}
	test.About = filmtest.TrimTo(strings.Join(told[1:], " "), 1000)
	return screen.Made{Test: test, Told: told, Advice: t.Advice}, nil
}

// Forecast says how well the test will tell the time for the usual gradient.
func (filmTests) Forecast(r sequence.Recipe, sheets int, guess string) string {
	_, about, times, err := filmtest.Options{Sheets: sheets, Guess: guess}.Series(r)
	if err != nil {
		return withoutFlagDashes(err).Error()
	}
	e, err := curve.ForecastTest(times, about, filmtest.DefaultTarget, curve.Errors{})
	if err != nil {
		return err.Error()
	}
	return strings.Join(append([]string{filmtest.ExpectationText(e, filmtest.DefaultTarget)}, e.Notes...), "\n")
}

// withoutFlagDashes is an error of a flag for somebody who typed none.
func withoutFlagDashes(err error) error {
	text, _ := strings.CutPrefix(err.Error(), "--")
	return errors.New(text)
}
