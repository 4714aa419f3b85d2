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
	list := []ErrorShare{{degrees, percent(e.HalfDegree)}, {"10 s", percent(e.TenSeconds)}, {"agitation", percent(e.Agitation)}}
	if name, share := CoefficientError(e); share != "" {
		list = append(list, ErrorShare{name, share})
	}
	list = append(list, ErrorShare{"together", percent(e.Together)})
	if e.Gradient != nil {
		list = append(list, ErrorShare{"of gradient", fmt.Sprintf("%.2f", *e.Gradient)})
	}
	return list
}

func percent(x float64) string { return fmt.Sprintf("%.1f%%", 100*x) }

// CoefficientError is what the temperature coefficient's own uncertainty does: "coefficient" or "coefficient
// (assumed)", "−7.1/+8.7%"; "" where it does nothing.
func CoefficientError(e planning.ErrorBudget) (name, share string) {
	const least = 0.0005 // reads 0.0%
	if max(-e.CoefficientLow, e.CoefficientHigh) < least {
		return "", ""
	}
	if name = "coefficient"; e.Assumed {
		name += " (assumed)"
	}
	return name, fmt.Sprintf("−%.1f/+%s", -100*e.CoefficientLow, percent(e.CoefficientHigh))
}
