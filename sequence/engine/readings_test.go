package engine

// Readings added one by one, in any order and from any state, against all of them sorted
// anew.

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// sorted is what the plan knows and what was read, by the rule alone: in order of time, of
// several at one instant the one told last.
func sorted(p *sequence.Plan, step int, told []chem.Point) []chem.Point {
	all := p.Course(&p.Steps[step]).Readings
	for _, r := range told {
		all = slices.DeleteFunc(all, func(o chem.Point) bool { return o.At == r.At })
		all = append(all, r)
	}
	slices.SortFunc(all, func(a, b chem.Point) int { return cmp.Compare(a.At, b.At) })
	return all
}

func TestReadingsAreSharedAndNeverChanged(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		table := recipetest.Bath(sequence.Develop, 10*recipetest.Minute)
		table.Temperature = &sequence.Temperature{At: 20, Table: []chem.Pair{{T: 18, Seconds: 720}, {T: 20, Seconds: 600}, {T: 22, Seconds: 480}}}
		p := planOf(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 5*recipetest.Minute), 20, 2.2), table, recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{})
		if rapid.Bool().Draw(r, "all baths by temperature") {
			p.Steps = p.Steps[:2]
		}
		type state struct {
			taken *bathReadings
			told  []chem.Point
		}
		states := []state{{}}
		for range rapid.IntRange(1, 60).Draw(r, "readings") {
			from := states[len(states)-1]
			if rapid.IntRange(0, 4).Draw(r, "branch") == 0 {
				from = states[rapid.IntRange(0, len(states)-1).Draw(r, "from")]
			}
			at := recipetest.Second * sequence.Elapsed(10*len(from.told))
			if rapid.IntRange(0, 4).Draw(r, "early") == 0 {
				at = recipetest.Seconds(r, 0, 600, "at")
			}
			point := chem.Point{At: at, T: *recipetest.Degrees(rapid.Float64Range(15, 25).Draw(r, "t"))}
			e := sequence.Event{At: point.At, Kind: sequence.ReadingTaken, Temperature: &point.T}
			told := append(slices.Clone(from.told), point)
			states = append(states, state{from.taken.with(p, e), told}, state{from.taken.with(p, e), told}) // decided, then applied
		}
		for _, s := range states[1:] {
			for _, step := range []int{0, 1} {
				if want := sorted(p, step, s.told); !slices.Equal(s.taken.rows[step], want) {
					r.Fatalf("step %d: %v\nexpected %v", step, s.taken.rows[step], want)
				}
			}
		}
	})
}
