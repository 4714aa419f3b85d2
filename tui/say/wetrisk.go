package say

// What a plan may do to the emulsion, by what was noted after sessions before it.

import (
	"fmt"
	"math"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// WetRisk is how likely a plan damages the emulsion, from which sessions, and what was assumed before them:
// "Risk to the emulsion in trays: 17:40 at 24 °C, 126 shuffles and transfers: 8%, 0–31%. …"; "" where
// nothing was noted.
func WetRisk(p *sequence.Plan, trials []notebook.WetTrial, h sequence.Units) string {
	if len(trials) == 0 {
		return ""
	}
	r := notebook.WetRiskOf(p, trials)
	text := "Risk to the emulsion " + r.Vessel.In() + ": " + wetRiskFigures(r, h) + "."
	text += fmt.Sprintf(" From %s with a note (%d sound, %d damaged), ", Count(r.Sound+r.Damaged, "session"), r.Sound, r.Damaged)
	if r.Limit > 0 {
		text += "starting from the recipe's limit of " + limit(r.Limit) + " as a weak guess."
	} else {
		text += "starting from a wide guess: the recipe gives no limit."
	}
	if !r.Seen {
		text += " No session came through sound that was this long, warm and handled at once."
	}
	return text
}

// wetRiskFigures is a plan and its risk: "17:40 at 24 °C, 126 shuffles and transfers: 8%, 0–31%".
func wetRiskFigures(r notebook.WetRisk, h sequence.Units) string {
	return fmt.Sprintf("%s at %s, %d shuffles and transfers: %s, %d–%d%%", Elapsed(r.Plan.Wet), Temperature(r.Plan.Temperature, h), r.Plan.Handlings,
		wholePercent(r.Risk), int(math.Floor(100*r.Low)), int(math.Ceil(100*r.High)))
}

// wholePercent is a risk in whole per cent; one that is there is never called none.
func wholePercent(risk float64) string {
	if risk < 0.01 {
		return "under 1%"
	}
	return fmt.Sprintf("%.0f%%", 100*risk)
}
