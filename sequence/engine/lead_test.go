package engine

// Which sheet lies at the bottom of a stack when it is to be lifted: the hand in the dark takes the bottom one.

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// stackAt lays a stack as hands do: each sheet that goes into the step lies on top, each shuffle puts the
// bottom one there. A sheet that was reported late never lay there before.
func stackAt(events []sequence.Event, step string, until sequence.Elapsed) (order []int) {
	for i, e := range events {
		switch {
		case e.At >= until:
			return order
		case e.Kind == sequence.Transferred && e.Step == step:
			late := func(l sequence.Event) bool {
				return l.Kind == sequence.LateReported && l.Sheet == e.Sheet && l.At >= e.At && l.At < until
			}
			if !slices.ContainsFunc(events[i:], late) {
				order = append(order, e.Sheet)
			}
		case e.Kind == sequence.CueGiven && e.Cue == sequence.CueShuffle && e.Step == step && len(order) > 1:
			order = append(order[1:], order[0])
		}
	}
	return order
}

// A sheet that comes into the developer late, in the middle of a round, does not keep the first one from the
// bottom when the row begins to leave.
func TestTheFirstSheetLiesAtTheBottomAfterALateOne(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sheets := rapid.IntRange(2, 6).Draw(r, "sheets")
		recipe := recipetest.SixInTray()
		recipe.Load.Sheets = sheets
		n := begun(t, planOf(t, recipe, sequence.Conditions{}), 0)
		last := rapid.IntRange(2, sheets).Draw(r, "late")
		entered := n.s.plan.Passages[sheets+last-1].In
		told := entered + sequence.Elapsed(rapid.IntRange(1, 40).Draw(r, "told after"))*recipetest.Second
		came := told + sequence.Elapsed(rapid.IntRange(1, 120).Draw(r, "came after"))*recipetest.Second
		for now := sequence.Elapsed(0); now < told; now += recipetest.Second {
			n.do(sequence.Wake{}, now)
		}
		n.do(sequence.MarkLate{Sheet: last}, told)
		if !n.s.Snapshot(told).Held {
			return // it could not be late any more
		}
		n.do(sequence.EndHold{}, came)
		out := n.s.Snapshot(came)
		first := sequence.Never
		for _, p := range out.Passages {
			if p.Step == 1 {
				first = min(first, p.Out)
			}
		}
		for now := came; now <= first; now += recipetest.Second {
			n.do(sequence.Wake{}, now)
		}
		order := stackAt(n.events, "develop", first)
		if len(order) != sheets {
			t.Fatalf("%v in the developer; expected %d sheets", order, sheets)
		}
		if lead := order[0]; lead != slices.Min(order) {
			t.Fatalf("%d sheets, %d late for %v: from the bottom %v when the first leaves at %v", sheets, last, came-entered, order, first)
		}
	})
}
