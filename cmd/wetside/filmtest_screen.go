package main

// Film tests, for the screens.

import (
	"errors"
	"fmt"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
)

// FilmTest is a recipe made into a film test, in the vessel that keeps the film under
// its limit.
func (h *host) FilmTest(r sequence.Recipe, sheets int, guess string) (sequence.Recipe, []string, error) {
	x := testPlan{sheets: sheets, guess: guess}
	at, _, times, err := x.series(r)
	if err != nil {
		return r, nil, asTyped(err)
	}
	t, err := x.inVessel(r, at, times)
	if err != nil {
		return r, nil, err
	}
	test, plan := t.recipe, t.plan
	if m := plan.Wet.Margin; m != nil && *m < 0 {
		return r, nil, fmt.Errorf("wet for %s, %s over the limit of the film; fewer sheets or a shorter guess", sequence.Clock(plan.Wet.Total), sequence.Clock(-*m))
	}
	told := append([]string{outAfter(&plan, times)}, t.notes...)
	for _, part := range []string{inContact, handled, sequence.HowToClip(sheets)} {
		told = append(told, strings.Join(strings.Fields(part), " "))
	}
	test.About = trimTo(strings.Join(told[1:], " "), 1000)
	return test, told, nil
}

// Expect says how well the test will tell the time for the usual gradient.
func (h *host) Expect(r sequence.Recipe, sheets int, guess string) string {
	_, about, times, err := testPlan{sheets: sheets, guess: guess}.series(r)
	if err != nil {
		return asTyped(err).Error()
	}
	e, err := curve.Expect(times, about, usualTarget, curve.Errors{})
	if err != nil {
		return err.Error()
	}
	return strings.Join(append([]string{expectation(e, usualTarget)}, e.Notes...), "\n")
}

// trimTo is a text cut to the length that a recipe takes.
func trimTo(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// asTyped is an error of a flag for somebody who typed none.
func asTyped(err error) error {
	text, _ := strings.CutPrefix(err.Error(), "--")
	return errors.New(text)
}
