package say

// Wet time and development done, as sentences: planned, while a session runs, and after it.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// WetTime is a plan's wet time against its limit: "Wet time 24:18: 76% of limit, 4:54 in
// hand", "Wet time 18:52: 105% of limit (18:00 in trays), 0:52 too long".
func WetTime(p *sequence.Plan) string {
	w := p.Wet
	text := "Wet time " + Elapsed(w.Total) + ": "
	if w.Limit == nil {
		return text + "no limit known " + p.Vessel.In()
	}
	return text + limitUsed(*w.Used, *w.Limit, *w.Margin, p.Vessel)
}

// limitUsed is a share of the limit and what it leaves.
func limitUsed(used float64, limit, margin sequence.Elapsed, v sequence.Vessel) string {
	text := Share(used) + " of limit"
	if margin < 0 {
		return fmt.Sprintf("%s (%s %s), %s too long", text, Elapsed(limit), v.In(), Elapsed(-margin))
	}
	return text + ", " + Elapsed(margin) + " in hand"
}

// WetTimeInFull is WetTime with when the warning comes and when the limit is used up, for
// paper.
func WetTimeInFull(p *sequence.Plan) string {
	w, text := p.Wet, WetTime(p)
	if w.Limit == nil {
		return text + "."
	}
	if *w.Margin >= 0 {
		text += fmt.Sprintf(" (%s %s)", Elapsed(*w.Limit), p.Vessel.In())
	}
	if w.WarningAt != nil {
		text += ", warning at " + Elapsed(*w.WarningAt)
	}
	if w.LimitAt != nil {
		text += ", wet limit at " + Elapsed(*w.LimitAt)
	}
	return text + "."
}

// SheetWet is how long one sheet was wet: "Sheet 1: 30:00 in hangers, 75% of limit"; used is
// nil where no limit is known.
func SheetWet(sheet string, total sequence.Elapsed, vessels string, used *float64, aside bool) string {
	text := fmt.Sprintf("%s: %s in %s", Capital(sheet), Elapsed(total), vessels)
	if used != nil {
		text += ", " + Share(*used) + " of limit"
	}
	if aside {
		text += ", set aside in water"
	}
	return text
}

// assumed marks a time that rests on a temperature coefficient that the recipe does not state.
func assumed(st *sequence.PlanStep) string {
	if !st.AssumesCoefficient() {
		return ""
	}
	return fmt.Sprintf(", coefficient %.1f assumed", st.TimeByTemperature.Coefficient)
}

// RecipeTime is what paper says beside today's time: "recipe 7:30 at 20 °C"; "" where both
// are the same.
func RecipeTime(st *sequence.PlanStep, h sequence.Units) string {
	switch {
	case st.Given == st.Base:
		return ""
	case st.TimeByTemperature == nil:
		return "recipe " + Elapsed(st.Base) + reusedBehind(st)
	}
	return "recipe " + Elapsed(st.Base) + " at " + Temperature(st.TimeByTemperature.At, h) + assumed(st) + reusedBehind(st)
}

func reusedBehind(st *sequence.PlanStep) string {
	if text := Reused(st); text != "" {
		return "; " + text
	}
	return ""
}

// Limits is how long the film may be wet in the vessels that a plan uses, the load's first:
// "20:00 in trays, 1:30 h in hangers". Empty where no limit is known.
func Limits(p *sequence.Plan) string {
	if d := p.Limits.All; d > 0 {
		return limit(d)
	}
	used := []sequence.Vessel{p.Vessel}
	for i := range p.Steps {
		if v := p.Steps[i].Vessel; !slices.Contains(used, v) && !p.Steps[i].OutsideWetTime {
			used = append(used, v)
		}
	}
	var list []string
	for _, v := range used {
		if d, ok := p.Limits.For(v); ok {
			list = append(list, limit(d)+" "+v.In())
		}
	}
	return strings.Join(list, ", ")
}

// limit is written so that an hour and a half is not taken for a minute and a half.
func limit(d sequence.Elapsed) string {
	if d < time.Hour {
		return sequence.FormatElapsed(d)
	}
	d = d.Truncate(time.Minute)
	return fmt.Sprintf("%d:%02d h", d/time.Hour, d%time.Hour/time.Minute)
}

// InHand is what is left up to the limit: "4:54 in hand", "0:52 too long".
func InHand(margin *sequence.Elapsed) string {
	switch {
	case margin == nil:
		return "no limit known"
	case *margin < 0:
		return sequence.FormatElapsed(-*margin) + " too long"
	}
	return sequence.FormatElapsed(*margin) + " in hand"
}

// TwoVessels is how limits of several vessels add up, in a sentence.
const TwoVessels = "Each vessel has its own limit. The share of it that the film spends there is added up, and at 100% the limit " +
	"is reached; the time in hand is said as time in the vessel that is loaded first."

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
