package backend

// Film tests, for the screens.

import (
	"errors"
	"fmt"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/filmtest"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// filmTests are made of recipes and forecast.
type filmTests struct{}

// FilmTestIn is a recipe made into a film test in a vessel, "" for the one that keeps the film
// under its limit.
func (filmTests) FilmTestIn(r sequence.Recipe, v sequence.Vessel, sheets int, guess string) (sequence.Recipe, []string, error) {
	x := filmtest.Options{Sheets: sheets, Guess: guess, Vessel: string(v)}
	at, _, times, err := x.Series(r)
	if err != nil {
		return r, nil, withoutFlagDashes(err)
	}
	t, err := x.InVessel(r, at, times)
	if err != nil {
		return r, nil, withoutFlagDashes(err)
	}
	test, plan := t.Recipe, t.Plan
	if m := plan.Wet.Margin; m != nil && *m < 0 {
		return r, nil, fmt.Errorf("wet for %s, %s over the limit of the film %s; fewer sheets, another vessel or a shorter guess", sequence.FormatElapsed(plan.Wet.Total), sequence.FormatElapsed(-*m), plan.Vessel.In())
	}
	told := append([]string{filmtest.PullTimesText(&plan, times)}, t.Notes...)
	for _, part := range []string{filmtest.ContactPrintText, filmtest.MarkingText, say.HowToClip(sheets)} {
		told = append(told, strings.Join(strings.Fields(part), " "))
	}
	test.About = filmtest.TrimTo(strings.Join(told[1:], " "), 1000)
	return test, told, nil
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
