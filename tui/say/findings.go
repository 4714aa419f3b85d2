package say

// What a record shows for next time, and what it suggests as the cause of how negatives
// look: a sentence for each finding of the notebook.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
)

// Findings are a session's findings in sentences.
func Findings(s *notebook.Session, h sequence.Units) []string {
	return findingsIn(s.Findings, s.Plan, h)
}

// Causes are what its record suggests as the causes of how the negatives look.
func Causes(s *notebook.Session, h sequence.Units) []string {
	return findingsIn(s.Causes(), s.Plan, h)
}

func findingsIn(found []notebook.Finding, p *sequence.Plan, h sequence.Units) []string {
	var list []string
	for i := range found {
		list = append(list, finding(&found[i], p, h))
	}
	return list
}

func finding(f *notebook.Finding, p *sequence.Plan, h sequence.Units) string {
	if f.Look != "" {
		return fmt.Sprintf("Negatives %s: %s.", f.Look, cause(f, p, h))
	}
	switch f.Code {
	case notebook.WetUnlooked, notebook.WetSoundBeyond, notebook.WetSoundNoLimit, notebook.WetDamaged:
		return "Wet time: " + wetFinding(f) + "."
	case notebook.CutShort:
		return cutShort(f)
	case notebook.CuesMissed:
		var each []string
		for _, k := range sequence.CueKinds {
			if n := f.Missed[k]; n > 0 {
				each = append(each, fmt.Sprintf("%s %d", k, n))
			}
		}
		return fmt.Sprintf("Gaps: %d cues were not given (%s).", f.Count, strings.Join(each, ", "))
	}
	return f.Step + ": " + developingFinding(f, h) + "."
}

func developingFinding(f *notebook.Finding, h sequence.Units) string {
	given, planned := sequence.FormatElapsed(f.Given), sequence.FormatElapsed(f.Planned)
	switch f.Code {
	case notebook.OutsideTable:
		return "the bath was outside the recipe's table, and that is uncertain: " + developedTo(f)
	case notebook.TimeFollowed:
		return fmt.Sprintf("%s; the time followed, %s instead of %s. Read the bath shortly before the first sheet goes in and plan with that", bathAtEnd(f.Bath, h), given, planned)
	case notebook.BathOff:
		text := bathAtEnd(f.Bath, h) + ": " + developedTo(f)
		for k, n := range f.Sheets {
			text += []string{", sheet ", ", "}[min(k, 1)] + fmt.Sprint(n)
		}
		return text
	}
	return fmt.Sprintf("sheet %d was in for %s, planned %s: %s", f.Sheet, given, planned, developedTo(f))
}

// bathAtEnd is "24.0 °C at the end, 20.0 °C planned".
func bathAtEnd(b *notebook.BathOffPlan, h sequence.Units) string {
	return Reading(b.AtEnd, h) + " at the end, " + Reading(b.Planned, h) + " planned"
}

// developedTo is how far sheets are developed: "developed 111% (100% is right)", or a range.
func developedTo(f *notebook.Finding) string {
	low, high := fmt.Sprintf("%.0f", 100*f.Low), fmt.Sprintf("%.0f", 100*f.High)
	if low != high {
		high = low + "–" + high
	}
	return "developed " + high + "% (100% is right)"
}

func cutShort(f *notebook.Finding) string {
	text := fmt.Sprintf("%s: sheet %d had %s of at least %s", f.Step, f.Sheet, sequence.FormatElapsed(f.Given), sequence.FormatElapsed(f.Planned))
	switch f.Kind {
	case sequence.Fix:
		return text + ": fix and wash it again before it is kept."
	case sequence.Wash, sequence.WashingAid:
		return text + ": wash it again before it is kept."
	}
	return text + "."
}

func wetFinding(f *notebook.Finding) string {
	var in []string
	for _, v := range f.Wet.Vessels {
		in = append(in, string(v.Vessel))
	}
	wet := fmt.Sprintf("sheet %d was wet for %s in %s", f.Wet.Sheet, sequence.FormatElapsed(f.Wet.Total), strings.Join(in, ", then "))
	if f.Wet.Used != nil {
		wet += fmt.Sprintf(", %d%% of its limit", sequence.PercentUsed(*f.Wet.Used))
	}
	switch f.Code {
	case notebook.WetUnlooked:
		return wet + ": look at the emulsion when it is dry, and note how it came through"
	case notebook.WetSoundBeyond:
		return wet + ", and the emulsion is sound: handled in this way the film stands that"
	case notebook.WetSoundNoLimit:
		return wet + ", and the emulsion is sound: a wet limit of that is on the safe side"
	}
	return fmt.Sprintf("%s, and the emulsion is damaged (%s): set the wet limit below that, or handle it less", wet, f.Emulsion)
}

// cause is what the record holds against a look of the negatives.
func cause(f *notebook.Finding, p *sequence.Plan, h sequence.Units) string {
	share := fmt.Sprintf("the record has %.0f%% of the planned development (100%% is right)", 100*f.High)
	switch f.Code {
	case notebook.DevelopedOff:
		if f.Bath != nil {
			return bathAtEnd(f.Bath, h) + ": " + share
		}
		return share
	case notebook.DevelopedFar:
		return share + ", and fog grows with it"
	case notebook.PlanWarned:
		return "the plan warned: " + Caution(f.Caution, p, h)
	case notebook.AgitationMissed:
		return fmt.Sprintf("%d calls to agitate or turn fell into a gap", f.Count)
	case notebook.DryIntoDeveloper:
		return "the sheets went into the developer dry, one on the other"
	case notebook.WetBeyond:
		return fmt.Sprintf("wet for %d%% of what the film stands in this vessel", sequence.PercentUsed(f.Used))
	case notebook.LargeStack:
		return fmt.Sprintf("%d sheets were shuffled in one tray; up to %d are easier on soft gelatin (common practice)", f.Count, notebook.EasySheets)
	}
	return "the record shows no cause; " + usualCause[f.Look] + " (common practice)"
}

// usualCause is what else makes negatives look so (common practice, no source).
var usualCause = map[notebook.Appearance]string{
	notebook.Thin:      "where the shadows are empty too, the film had too little exposure, which no development brings back; where only the lights are weak, develop a fifth longer",
	notebook.Dense:     "where the shadows are heavy too, the film had more exposure than it needs; where only the lights are, develop a sixth less",
	notebook.Fogged:    "light at the edges of the dark, old film or an exhausted developer are usual causes",
	notebook.Uneven:    "too little or too regular agitation, and no water before the developer, are usual causes",
	notebook.Scratched: "nails, dry sheets sliding on wet ones and soft warm gelatin are usual causes",
}

// Correction is why the next developing time should be another, and how uncertain that is.
func Correction(c notebook.Correction) string {
	rests := fmt.Sprintf("%s: %.2f to %.2f times, 90%%", Count(c.Looks, "look"), c.Low, c.High)
	if c.Look == notebook.Dense {
		return "the negatives are dense and had the development planned, if their shadows are not heavy (" + rests + ")"
	}
	return "the negatives are thin and had the development planned, if their shadows are not empty (" + rests + ")"
}

// Learnt is what a session taught of its film's time: "Film's time at 20 °C: 7:05, 6:45–7:25; before 7:20, 6:30–8:10:
// interval 42% narrower."
func Learnt(l *film.Learnt, h sequence.Units) string {
	text := fmt.Sprintf("Film's time at %s for a gradient of %.2f: %s, %s", Temperature(l.Temperature, h), l.AverageGradient, minutesOf(l.After.Time), between(l.After.Low, l.After.High))
	if b := l.Before; b != nil {
		text += fmt.Sprintf("; before %s, %s", minutesOf(b.Time), between(b.Low, b.High))
	}
	switch {
	case l.From == "" && l.Test:
		return text + ". Nothing is learnt until the densities are read" + expected(l.Expected, "") + "."
	case l.From == "":
		return text + ". Nothing is learnt until the negatives are looked at" + expected(l.Expected, "if they look good, ") + "."
	case l.Before == nil:
		return text + ". It is the first that is known."
	}
	return text + ": interval " + narrower(l.Narrower) + "."
}

// LearntInShort is that in a few words: "Film's time 7:05: interval 42% narrower."
func LearntInShort(l *film.Learnt) string {
	text := "Film's time " + minutesOf(l.After.Time)
	if l.Before == nil {
		return text + "."
	}
	return text + ": interval " + narrower(l.Narrower) + "."
}

func expected(share *float64, where string) string {
	if share == nil {
		return ""
	}
	return ": " + where + "the interval then gets " + narrower(share)
}

// narrower is by how much an interval got narrower.
func narrower(share *float64) string {
	const least = 0.005 // reads 0%
	switch {
	case share == nil:
		return "has no end yet"
	case *share >= least:
		return Percent(*share) + " narrower"
	case *share > -least:
		return "hardly narrower"
	}
	return Percent(-*share) + " wider: this contradicts what was known"
}
