package filmtest

// A film test in its vessel: which one, why another than the recipe's, and what becomes
// of the baths there.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// MadeTest is a film test as a recipe, its plan, and what to know of its vessel.
type MadeTest struct {
	Recipe sequence.Recipe
	Plan   sequence.Plan
	Notes  []string
	Guess  time.Duration   // that is thought right
	Times  []time.Duration // of the sheets
	Advice film.Proposal
}

// InVessel is the film test in the vessel chosen, all its sheets out of the developer together
// where a step comes before it, or each straight on to the fixer; without a vessel in the first
// of vesselsFor that keeps the film under its limit, else in the first of them.
func (x Options) InVessel(r sequence.Recipe, at int, times []time.Duration) (MadeTest, error) {
	list := vesselsFor(r.Load.Vessel)
	if x.Vessel != "" {
		v := sequence.Vessel(x.Vessel)
		if !slices.Contains(openVessels, v) {
			return MadeTest{}, app.Usagef("--vessel: %q; expected one that sheets can be pulled from: hangers, single, cradle or tray", x.Vessel)
		}
		list = []sequence.Vessel{v}
	}
	var first MadeTest
	for i, v := range list {
		test := testRecipe(r, at, times, v)
		test.Steps[at].StraightOn = x.StraightOn
		test.Steps[at].LeaveTogether = at > 0 && !x.StraightOn
		notes := append(x.whyVessel(r, v, test.Steps[at].Agitate), fillTo(&test)...)
		p, err := planning.Resolve(test, sequence.Conditions{})
		if i == 0 {
			if err != nil {
				return MadeTest{}, err
			}
			first = MadeTest{Recipe: test, Plan: p, Notes: notes}
		}
		if err == nil && p.Wet.Margin != nil && *p.Wet.Margin >= 0 {
			return MadeTest{Recipe: test, Plan: p, Notes: notes}, nil
		}
	}
	return first, nil
}

// vesselsFor are the open vessels in the order in which they are tried: the recipe's own
// first, where its time is for it; a stack is only the last resort.
func vesselsFor(own sequence.Vessel) []sequence.Vessel {
	if own.Closed() || own == sequence.Tray {
		return openVessels
	}
	list := []sequence.Vessel{own}
	for _, v := range openVessels {
		if v != own {
			list = append(list, v)
		}
	}
	return list
}

// whyVessel says why the test is in another vessel than its recipe, and what that means
// for the time that it finds; nil where it is in the same.
func (x Options) whyVessel(r sequence.Recipe, v sequence.Vessel, agitate sequence.Agitation) []string {
	own := r.Load.Vessel
	if v == own {
		return nil
	}
	why := own.In() + " the film would be wet for longer than its limit"
	switch {
	case x.Vessel != "":
		why = "as chosen"
	case own.Closed():
		why = "no sheet can be pulled from a closed vessel in the dark"
	case own == sequence.Tray:
		why = "in a stack each sheet would have to be found by touch in the dark, while all of them are shuffled"
	}
	holds := strings.TrimPrefix(own.In(), "in ")
	if own == sequence.Tray && r.Load.Sheets > 1 {
		holds = "a shuffled stack"
	}
	return []string{fmt.Sprintf("The test is done %s, not %s: %s. The time that it finds is for %s with this agitation (%s); it will not hold for %s.",
		v.In(), own.In(), why, strings.TrimPrefix(v.In(), "in "), say.Agitation(agitate), holds)}
}

// fillTo makes the baths large enough to cover the sheets in the test's vessel, and says
// which it changed.
func fillTo(test *sequence.Recipe) (notes []string) {
	need := planning.Cover(test.Load.Vessel, test.Load.Sheets, test.Load.Size)
	test.Baths = slices.Clone(test.Baths)
	for i := range test.Baths {
		if b := &test.Baths[i]; b.Volume > 0 && b.Volume < need {
			notes = append(notes, fmt.Sprintf("%s: %.4g L instead of %.4g L, to cover %d sheets %s (our own rule: measure your vessel).",
				b.ID, float64(need)/1000, float64(b.Volume)/1000, test.Load.Sheets, test.Load.Vessel.In()))
			b.Volume = need
		}
	}
	return notes
}

// testRecipe is a recipe made into a film test in a vessel: one sheet a time, named by
// its clips. Where nothing is shuffled it is agitated as in hangers.
func testRecipe(r sequence.Recipe, at int, times []time.Duration, v sequence.Vessel) sequence.Recipe {
	r.Title = TrimTo(fmt.Sprintf("%s%s, %d sheets %s", densities.FilmTestTitle, r.Film.Name, len(times), v.In()), 120)
	r.Load.Vessel, r.Load.Sheets, r.Load.ReverseEvery, r.Load.Names = v, len(times), 0, say.Clips(len(times))
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
