package filmtest

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/planning"
)

// DefaultTarget is the average gradient that a test looks for until another is told.
const DefaultTarget = 0.58

// Options is the flags as typed.
type Options struct {
	Sheets                int
	Guess                 string
	Target                float64
	Scatter, ReadingError float64
	Exposed               string
	WriteFile             string
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

// openVessels are those that sheets can be taken out of one by one, the kindest to a
// soft film first; a stack, where each must be found by touch in the dark, last.
var openVessels = []sequence.Vessel{sequence.Hangers, sequence.SingleTrays, sequence.Cradle, sequence.Tray}

// PlanInRoomiestVessel is the film test in the first open vessel that keeps the film under its
// limit; where none does or no limit is known, in hangers.
func PlanInRoomiestVessel(r sequence.Recipe, at int, times []time.Duration) (sequence.Recipe, sequence.Plan, error) {
	var first sequence.Recipe
	var plan sequence.Plan
	for i, v := range openVessels {
		test := testRecipe(r, at, times, v)
		p, err := planning.Resolve(test, sequence.Conditions{})
		if i == 0 {
			if err != nil {
				return test, p, err
			}
			first, plan = test, p
		}
		if err == nil && p.Wet.Margin != nil && *p.Wet.Margin >= 0 {
			return test, p, nil
		}
	}
	return first, plan, nil
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

// testRecipe is a recipe made into a film test in a vessel: one sheet a time, taken
// out of the developer. Where nothing is shuffled it is agitated as in hangers.
func testRecipe(r sequence.Recipe, at int, times []time.Duration, v sequence.Vessel) sequence.Recipe {
	r.Title = trimTitle(densities.FilmTestTitle + r.Title)
	r.Load.Vessel, r.Load.Sheets, r.Load.ReverseEvery, r.Load.Names = v, len(times), 0, nil
	r.Steps = slices.Clone(r.Steps)
	fixed := false
	for i := range r.Steps {
		st := &r.Steps[i]
		st.Vessel, st.ReverseEvery = "", 0
		switch {
		case v == sequence.Tray:
			st.Agitate = sequence.Agitation{Mode: sequence.Shuffle}
		case st.Agitate.Mode == sequence.Shuffle:
			st.Agitate = sequence.Agitation{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 10 * time.Second, Every: time.Minute}
		}
		if !fixed && r.Film.Sensitivity == sequence.Pan {
			st.RoomLight = sequence.Dark
		}
		fixed = fixed || st.Kind == sequence.Fix
	}
	st := &r.Steps[at]
	st.Time, st.Times, st.PullTimes, st.LeastTime, st.Growth = 0, nil, times, 0, nil
	return r
}

func trimTitle(s string) string {
	if r := []rune(s); len(r) > 120 {
		return string(r[:120])
	}
	return s
}
