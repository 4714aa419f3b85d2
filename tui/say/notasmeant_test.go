package say

import (
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// A sheet that went past the developer with none of its development is named; one that is still
// before it, in it or set aside is not.
func TestASheetWithoutDevelopmentIsNamed(t *testing.T) {
	p := &sequence.Plan{Steps: []sequence.PlanStep{{Step: sequence.Step{Kind: sequence.Presoak}}, {Step: sequence.Step{Kind: sequence.Develop}, Stack: true}, {Step: sequence.Step{Kind: sequence.StopBath}}}}
	for _, c := range []struct {
		sheet engine.SheetSnapshot
		want  string
	}{
		{engine.SheetSnapshot{Step: 0}, ""},
		{engine.SheetSnapshot{Step: 1}, ""},
		{engine.SheetSnapshot{Step: 2, Aside: true}, ""},
		{engine.SheetSnapshot{Step: 2}, "Underdeveloped: sheet 1, 0% (100% is right)"},
		{engine.SheetSnapshot{Step: 2, DevelopedShare: 1}, ""},
	} {
		if got := NotAsMeant(p, []engine.SheetSnapshot{c.sheet}); got != c.want {
			t.Errorf("%+v: %q; expected %q", c.sheet, got, c.want)
		}
	}
	p.Steps[1].Stack = false // in hangers all leave at one moment, and no sheet has a share of its own
	if got := NotAsMeant(p, []engine.SheetSnapshot{{Step: 2}}); got != "" {
		t.Errorf("in hangers: %q", got)
	}
}
