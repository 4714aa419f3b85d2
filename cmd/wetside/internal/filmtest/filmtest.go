// Package filmtest turns what a person wants to find out about a film into a film test: the
// times, the exposure, the vessels. The command and the screen both use it.
//
// Start with Options.Series. It writes no file.
package filmtest

// What a film test is made of: which times, which exposure, in which vessels.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
)

// DefaultTarget is the average gradient that a test looks for until another is told.
const DefaultTarget = 0.58

// Options is the flags as typed.
type Options struct {
	Sheets                int
	Guess                 string
	Target                float64
	Scatter, ReadingError float64
	Exposed, Vessel       string
	WriteFile             string
	StraightOn            bool // each sheet through the acid stop bath to the fixer, instead of all out together
	Proposed              bool // the times that the notebook proposes, instead of the usual series
	AsJSON                bool
}

// Series is the step that develops, the time that is thought right, and the times to
// spend sheets on.
func (x Options) Series(r sequence.Recipe) (at int, guess time.Duration, times []time.Duration, err error) {
	at = slices.IndexFunc(r.Steps, func(s sequence.Step) bool { return s.Kind == sequence.Develop })
	if at < 0 {
		return at, 0, nil, fmt.Errorf("the recipe does not develop; expected one that does")
	}
	if x.Sheets < 2 || x.Sheets > 12 {
		if x.Sheets == 0 {
			return at, 0, nil, app.Usagef("--sheets N is missing; expected 2 to 12")
		}
		return at, 0, nil, app.Usagef("--sheets: %d; expected 2 to 12", x.Sheets)
	}
	guess = usualDevelopingTime(r.Steps[at])
	if x.Guess != "" {
		if guess, err = chem.ParseDuration(x.Guess); err != nil {
			return at, 0, nil, app.Usagef("--guess: %v", err)
		}
	}
	times, err = curve.TestTimes(guess, x.Sheets)
	return at, guess, times, err
}

// Make is the film test, and which sheets would say most of the film by what is known of it.
func (x Options) Make(r sequence.Recipe, known []film.Known) (MadeTest, error) {
	at, guess, times, err := x.Series(r)
	if err != nil {
		return MadeTest{}, err
	}
	t, err := x.InVessel(r, at, times)
	if err != nil {
		return t, err
	}
	advice := film.ProposeSheets(known, &t.Plan, guess)
	if x.Proposed {
		times = nil
		for _, s := range advice.Next {
			times = append(times, app.FromSeconds(s.Time))
		}
		slices.Sort(times)
		if t, err = x.InVessel(r, at, times); err != nil {
			return t, err
		}
	}
	t.Guess, t.Times, t.Advice = guess, times, advice
	return t, nil
}

// Exposure is how the tablet lies on the film's scale when it is exposed by a meter;
// nil where it is printed in contact.
func (x Options) Exposure() (*curve.ExposedTablet, error) {
	if x.Exposed == "" {
		return nil, nil
	}
	e, err := curve.PlaceTablet(x.Exposed)
	if err != nil {
		return nil, app.Usagef("--exposed: %v", err)
	}
	return &e, nil
}

// usualDevelopingTime is a step's time, or its usual development's.
func usualDevelopingTime(st sequence.Step) time.Duration {
	switch {
	case st.Time > 0:
		return st.Time
	case len(st.PullTimes) > 0:
		return st.PullTimes[len(st.PullTimes)/2]
	}
	for _, t := range st.Times {
		if t.Name == "N" {
			return t.Time
		}
	}
	return st.Times[0].Time
}

// TrimTo is a text cut to the length that a recipe takes.
func TrimTo(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// openVessels are those that sheets can be pulled from one by one, the kindest to a
// soft film first; a stack, where each must be found by touch in the dark, last.
var openVessels = []sequence.Vessel{sequence.Hangers, sequence.SingleTrays, sequence.Cradle, sequence.Tray}
