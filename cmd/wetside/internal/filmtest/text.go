package filmtest

// A film test in words: which sheet is pulled when, and what may be expected of it.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// PullTimesText says which sheets come out when.
func PullTimesText(plan *sequence.Plan, times []time.Duration) string {
	list := make([]string, len(times))
	for i, t := range times {
		list[i] = sequence.FormatElapsed(t)
	}
	how, order := "out after ", ""
	if i := slices.IndexFunc(plan.Steps, func(st sequence.PlanStep) bool { return st.IsFilmTest() }); i >= 0 {
		if order = say.PullOrder(&plan.Steps[i].Step); order != "" {
			order = " (" + strings.TrimPrefix(order, ", ") + ")"
		}
		if plan.Steps[i].LeaveTogether {
			how = "in the developer for "
		}
	}
	return fmt.Sprintf("%d sheets %s, %s%s%s", len(times), plan.Vessel.In(), how, strings.Join(list, ", "), order)
}

// ExpectationText says how well a test will tell the time, and how many tests tell none; ""
// where none does.
func ExpectationText(e curve.TestForecast, target float64) string {
	if e.Low == nil || e.High == nil {
		return ""
	}
	text := fmt.Sprintf("Expected of this test alone: the time for a gradient of %.2f to within %s–%s (90%%)",
		target, sequence.FormatElapsed(app.FromSeconds(*e.Low)), sequence.FormatElapsed(app.FromSeconds(*e.High)))
	if e.Missed < 0.005 {
		return text + "."
	}
	return text + fmt.Sprintf(", where it gives one: %.0f such tests in a hundred give none.", max(1, 100*e.Missed))
}

// How the sheets are made ready: common practice, no source.
const (
	ContactPrintText = `
Expose each sheet alike, in contact: tablet on the emulsion under clean glass, one small
light far enough away to be even, the same time for each.
`
	ThroughCameraText = `
Expose each sheet alike, through the camera: tablet on the emulsion in the holder, lens
at infinity (nearer, its bellows take light: see wetside expose --bellows), an evenly lit card that fills the picture. Set the meter to %.4g, meter the
card and give %+.4g stops. Tablet density %.2f then gets what the meter asks for, and a
film of that index has its speed point near density %.2f.
`
	MarkingText = "Mask the corner across from the notch with black tape: unexposed, it gives base plus fog.\n"
)
