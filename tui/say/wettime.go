package say

// Wet time and development done, as sentences: planned, while a session runs, and after it.

import (
	"fmt"
	"math"
	"slices"
	"strings"

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
	if full := WetByVessel(p); full != "" {
		text = "Wet time " + Elapsed(w.Total) + ": " + full
	} else if *w.Margin >= 0 {
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
// "20:00 in trays, 1:30:00 in hangers". Empty where no limit is known.
func Limits(p *sequence.Plan) string {
	if d := p.Limits.All; d > 0 {
		return Elapsed(d)
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
			list = append(list, Elapsed(d)+" "+v.In())
		}
	}
	return strings.Join(list, ", ")
}

// WetByVessel is a share of the limit and what it leaves in each of two vessels, where the film
// goes from one to another of another limit: "86% of limit, 2:52 in hand in trays, 12:55 in
// hangers". The second is what lies between the plan's end and the strip's mark. "" elsewhere, and
// where the limit is passed: that may be in either.
func WetByVessel(p *sequence.Plan) string {
	last, ok := lastVessel(p)
	if !ok || *p.Wet.Margin < 0 {
		return ""
	}
	first, _ := p.Limits.For(p.Vessel)
	second, _ := p.Limits.For(last)
	margin := *p.Wet.Margin
	other := sequence.Elapsed(float64(margin) * float64(second) / float64(first))
	return fmt.Sprintf("%s of limit, %s in hand %s, %s %s", Share(*p.Wet.Used), Elapsed(margin), p.Vessel.In(), Elapsed(other), last.In())
}

// LimitIn is the vessel in which a limit behind the last bath's end is reached, where that is
// another than the first: "in hangers"; "" elsewhere.
func LimitIn(p *sequence.Plan) string {
	if last, ok := lastVessel(p); ok {
		return last.In()
	}
	return ""
}

// lastVessel is the one that the film is in when it comes out of the last bath, where that has
// another limit than the one that is loaded.
func lastVessel(p *sequence.Plan) (v sequence.Vessel, ok bool) {
	if p.Wet.Margin == nil || p.Wet.Used == nil {
		return "", false
	}
	for i := range p.Steps {
		if !p.Steps[i].OutsideWetTime {
			v = p.Steps[i].Vessel
		}
	}
	first, known := p.Limits.For(p.Vessel)
	second, ok := p.Limits.For(v)
	return v, known && ok && first > 0 && v != p.Vessel && first != second
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
	"is reached; the time in hand is said as time in the vessel that is loaded first, and with room also in the last one."

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
		text += "starting from the recipe's limit of " + Elapsed(r.Limit) + " as a weak guess."
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
