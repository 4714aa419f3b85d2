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
	at, _, times, err := testPlan{sheets: sheets, guess: guess}.series(r)
	if err != nil {
		return r, nil, asTyped(err)
	}
	test, plan, err := roomiest(r, at, times)
	if err != nil {
		return r, nil, err
	}
	if m := plan.Wet.Margin; m != nil && *m < 0 {
		return r, nil, fmt.Errorf("wet for %s, %s over the limit of the film; fewer sheets or a shorter guess", sequence.Clock(plan.Wet.Total), sequence.Clock(-*m))
	}
	told := []string{outAfter(&plan, times)}
	for _, part := range []string{inContact, handled} {
		told = append(told, strings.Join(strings.Fields(part), " "))
	}
	test.About = strings.Join(told[1:], " ")
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

// asTyped is an error of a flag for somebody who typed none.
func asTyped(err error) error {
	text, _ := strings.CutPrefix(err.Error(), "--")
	return errors.New(text)
}
