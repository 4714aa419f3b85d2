package say

// What small errors do to development.

import (
	"fmt"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// ErrorShare is what one error does.
type ErrorShare struct{ Error, Percent string }

// ErrorBudget is what half a degree, ten seconds and a twentieth of the agitation do to a
// developing step, and all of them together.
func ErrorBudget(e planning.ErrorBudget, u sequence.Units) []ErrorShare {
	degrees := "0.5 °C"
	if u.Fahrenheit {
		degrees = "0.9 °F"
	}
	list := []ErrorShare{{degrees, percent(e.HalfDegree)}, {"10 s", percent(e.TenSeconds)}, {"agitation", percent(e.Agitation)}, {"together", percent(e.Together)}}
	if e.Gradient != nil {
		list = append(list, ErrorShare{"of gradient", fmt.Sprintf("%.2f", *e.Gradient)})
	}
	return list
}

func percent(x float64) string { return fmt.Sprintf("%.1f%%", 100*x) }
