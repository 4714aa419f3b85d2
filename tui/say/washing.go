package say

// Ways of washing.

import (
	"fmt"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// WashMethod is a way of washing: what it is called, and what is done.
func WashMethod(w chem.WashMethod) (name, text string) {
	clock := sequence.FormatElapsed
	switch w.Way {
	case chem.WashWithAid:
		return "with a washing aid", fmt.Sprintf("rinse %s, washing aid %s, wash %s", clock(w.Rinse), clock(w.Aid), clock(w.Wash))
	case chem.WashRunning:
		return "in running water", "a full change each 3:00; half the fixer goes each minute that fresh water touches the film"
	case chem.WashChanges:
		return "fill and dump", fmt.Sprintf("%d changes, each standing %s; a lower bound: gelatin gives up its fixer in minutes", w.Changes, clock(w.Each))
	}
	return "without a washing aid", "wash " + clock(w.Wash)
}
