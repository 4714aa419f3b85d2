package schedule

// The least time of a step, and how long film is fixed at least.

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// leastFix is how long film is fixed at least, in all baths in a row, where no clearing
// time was measured (our own rule: film fixed too briefly looks clear, and fades).
const leastFix = 5 * time.Minute

// LeastTime is how far step i may be cut: to what the recipe says that still does its work,
// of a fixing bath no further than its clearing time allows, of a stack's bath no further
// than its turns need. 0 where it may not be cut.
func LeastTime(p *sequence.Plan, i int) sequence.Elapsed {
	st := &p.Steps[i]
	d := st.LeastTime
	if d <= 0 {
		return 0
	}
	if st.Kind == sequence.Fix {
		d = max(d, fixedAtLeast(p, i))
	}
	return TurnedIn(p, i, d)
}

// fixedAtLeast is the least time of fixing step i: by the clearing time measured, in the
// bottle too; without one what is missing from leastFix in the other baths in a row.
func fixedAtLeast(p *sequence.Plan, i int) sequence.Elapsed {
	if p.Conditions.Clearing > 0 {
		return FixedFor(p, i, p.Conditions.Clearing)
	}
	if k, ok := p.OpenBottle(p.Steps[i].Bath); ok && k.Clearing > 0 {
		return FixedByBottle(p, i, k.Clearing)
	}
	others := sequence.Elapsed(0)
	for j := i - 1; j >= 0 && p.Steps[j].Kind == sequence.Fix; j-- {
		others += p.Steps[j].Dose
	}
	for j := i + 1; j < len(p.Steps) && p.Steps[j].Kind == sequence.Fix; j++ {
		others += p.Steps[j].Dose
	}
	return leastFix - others
}

// FixedFor is how long step i fixes in a bath that clears in d; 0 where d is no
// clearing time.
func FixedFor(p *sequence.Plan, i int, d sequence.Elapsed) sequence.Elapsed {
	alone := (i == 0 || p.Steps[i-1].Kind != sequence.Fix) && (i+1 == len(p.Steps) || p.Steps[i+1].Kind != sequence.Fix)
	baths := 2
	if alone {
		baths = 1
	}
	t, _, err := chem.FixTime(d, baths, p.Conditions.Tabular)
	if err != nil {
		return 0
	}
	return t
}

// FixedByBottle is how long step i fixes in a bottle that clears in d at 20 °C: longer in a bath that is colder.
func FixedByBottle(p *sequence.Plan, i int, d sequence.Elapsed) sequence.Elapsed {
	if t := p.Steps[i].Temperature; t != nil {
		d = chem.ClearingAt(d, 20, *t)
	}
	return FixedFor(p, i, d)
}

// TurnedIn is the time of step i made long enough for its whole rounds of turns; a
// developer's, and that of a step without such rounds, as it is.
func TurnedIn(p *sequence.Plan, i int, d sequence.Elapsed) sequence.Elapsed {
	st, every := &p.Steps[i], p.Recipe.Load.ShuffleEvery
	rounds := st.Stack && st.Agitate.Mode == sequence.Shuffle && !st.IsFilmTest() && !p.TakesPulled(i) && !p.LeavesStaggered(i)
	if !rounds || st.Kind == sequence.Develop || every <= 0 {
		return d
	}
	count := nearestRounds(d-st.Drain, every, p.Sheets) * p.Sheets
	return max(d, st.Drain+sequence.Elapsed(count)*TurnFloor(every))
}
