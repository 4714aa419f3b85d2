package say

// Washing: ways of washing, how a wash of a plan is done, and what it leaves.

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
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
		return "fill and dump", fmt.Sprintf("%d changes, each standing %s: gelatin gives up its fixer in minutes", w.Changes, clock(w.Each))
	}
	return "without a washing aid", "wash " + clock(w.Wash)
}

// WashAim is what a residual is good for, with its limit: "film use (0.1 g/m²)".
func WashAim(a chem.WashAim) string {
	name := map[string]string{"film-use": "film use", "archival-use": "archival use", "36-cfr-1238.14-c": "36 CFR 1238.14(c)"}[a.Code]
	return fmt.Sprintf("%s (%.3g g/m²)", name, a.Limit)
}

// WashVerdict is which aims a residual meets at most: "enough for archival use (0.03 g/m²), not for …".
func WashVerdict(upper float64) string {
	met, missed := "", ""
	for _, a := range chem.WashAims {
		if upper <= a.Limit {
			met = WashAim(a)
		} else {
			missed = cmp.Or(missed, WashAim(a))
		}
	}
	switch {
	case met == "":
		return "not enough for " + missed
	case missed == "":
		return "enough for " + met
	}
	return "enough for " + met + ", not for " + missed
}

// WashSchedule is a wash in changes: "8 changes of 1.5 L standing 1:30, 14:40 in all, 12 L".
func WashSchedule(s chem.WashSchedule, h sequence.Units) string {
	of := Volume(s.Water/chem.Millilitres(s.Changes), h)
	return fmt.Sprintf("%s of %s standing %s, %s in all, %s", Count(s.Changes, "change"), of, Elapsed(s.Stand), Elapsed(s.Wet), Volume(s.Water, h))
}

// Washing is how a wash is done, running or by changes, with how much water, and to which residual; ""
// for another step.
func Washing(p *sequence.Plan, i int, h sequence.Units) string {
	w := planning.WashOf(p, i)
	if w == nil {
		return ""
	}
	every := (p.Steps[i].Given / time.Duration(w.Changes)).Truncate(time.Second)
	text := fmt.Sprintf("%s of %s, one every %s", Count(w.Changes, "change"), Volume(w.Volume, h), Elapsed(every))
	if !w.AfterFix {
		return text
	}
	text += fmt.Sprintf(", leaves at most %s of thiosulfate, %s", Residual(w.High), WashVerdict(w.High))
	if w.Running > w.High {
		text += fmt.Sprintf("; running water, all of it new every %s, leaves at most %s", Elapsed(every), Residual(w.Running))
	}
	return text
}

// BetterWashes is what each residual takes that the wash of a step does not reach, by the way with the fewest wet
// minutes: without a further bath, then, where no washing aid comes before the wash, after one.
func BetterWashes(p *sequence.Plan, i int, h sequence.Units) (lines []string) {
	w := planning.WashOf(p, i)
	if w == nil || !w.AfterFix {
		return nil
	}
	var longer, aided []string
	running := ""
	for _, to := range w.Schedules {
		if w.Reached(to.WashAim) {
			continue
		}
		how, runs := fewestWet(to, h)
		if runs {
			running = " (a full change every " + Span(chem.MinChange) + ")"
		}
		longer = append(longer, WashAim(to.WashAim)+" "+how)
		if to.AfterAid != nil {
			aided = append(aided, WashAim(to.WashAim)+" "+changesWithin(*to.AfterAid, h))
		}
	}
	if len(longer) > 0 {
		lines = append(lines, strings.Join(longer, "; ")+running)
	}
	if len(aided) > 0 {
		with, _ := chem.WashTimes(true, 0)
		lines = append(lines, fmt.Sprintf("after a rinse of %s and a washing aid for %s: %s", Elapsed(with.Rinse), Elapsed(with.Aid), strings.Join(aided, "; ")))
	}
	return lines
}

// WashingInShort is how a wash of a plan is done, and to which residual: "3 changes of 1.5 L, leaves at most 1.4 g/m²
// of thiosulfate: not enough for film use (0.1 g/m²)"; "" for another step, and where no fixer comes before it.
func WashingInShort(p *sequence.Plan, i int, h sequence.Units) string {
	w := planning.WashOf(p, i)
	if w == nil || !w.AfterFix {
		return ""
	}
	return fmt.Sprintf("%s of %s, leaves at most %s of thiosulfate: %s", Count(w.Changes, "change"), Volume(w.Volume, h), Residual(w.High), WashVerdict(w.High))
}

// fewestWet is the way to an aim with the fewest wet minutes, without a further bath, and whether water runs.
func fewestWet(to planning.WashTo, h sequence.Units) (how string, running bool) {
	switch {
	case to.ByChanges == nil && to.Running == nil:
		return "more water", false
	case to.ByChanges == nil || to.Running != nil && *to.Running < to.ByChanges.Wet:
		return Elapsed(*to.Running) + " in running water", true
	}
	return changesWithin(*to.ByChanges, h), false
}

// changesWithin is a wash in changes: "4 changes of 1.5 L in 6:20".
func changesWithin(s chem.WashSchedule, h sequence.Units) string {
	return fmt.Sprintf("%s of %s in %s", Count(s.Changes, "change"), Volume(s.Water/chem.Millilitres(s.Changes), h), Elapsed(s.Wet))
}

// Residual is thiosulfate on film, in g/m² of one side: "0.047 g/m²", rounded up.
func Residual(g float64) string { return ResidualGrams(g) + " g/m²" }

// ResidualGrams is Residual without its unit.
func ResidualGrams(g float64) string {
	const least = 0.0005
	if g < least {
		return "under 0.0005"
	}
	grain := math.Pow(10, math.Floor(math.Log10(g))-1)
	return fmt.Sprintf("%.2g", math.Ceil(g/grain-1e-9)*grain)
}

// FractionLeft is a share of the fixer that is left: "0.0004", "under 1/100,000".
func FractionLeft(x float64) string {
	if x < 1e-5 {
		return "under 1/100,000"
	}
	return fmt.Sprintf("%.3g", x)
}
