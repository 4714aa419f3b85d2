package notebook

// What a record says for next time: plain sentences, each from its numbers and
// from nothing else. The thresholds are our own rules.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/wetside/sequence"
)

const (
	leastShare      = 0.02 // of development: less is within what hands and thermometers can do
	leastDifference = 0.5
	leastShort      = 2e9 // 2 s: a bath that was this much shorter than planned
)

// SuggestionsIn is Suggests with the temperatures on a person's scale.
func (s *Session) SuggestionsIn(h sequence.Units) []string {
	if s.Plan == nil {
		return s.Suggestions
	}
	return suggest(s, h)
}

// CausesIn is what the record suggests as the causes of how the negatives look, as in
// SuggestionsIn; nothing for a rehearsal.
func (s *Session) CausesIn(h sequence.Units) []string {
	if s.Plan == nil || s.Rehearsal {
		return nil
	}
	return causes(s, h)
}

// suggest says what the session's numbers show. A rehearsal shows nothing: no
// film was in it.
func suggest(s *Session, h sequence.Units) []string {
	if s.Rehearsal {
		return nil
	}
	var list []string
	for i := range s.Steps {
		st := &s.Steps[i]
		if st.Plan.Kind == sequence.Develop {
			list = append(list, developing(s.Plan, i, st, h)...)
		} else if text := shortBath(st); text != "" {
			list = append(list, text)
		}
	}
	list = append(list, causes(s, h)...)
	list = append(list, wetTimeText(s)...)
	if len(s.Missed) > 0 {
		list = append(list, missedText(s.Missed))
	}
	return list
}

// developing tells of development that came out otherwise than planned, and of
// a bath that was not as warm as planned.
func developing(p *sequence.Plan, i int, st *StepDone, h sequence.Units) []string {
	left := leftOf(st)
	if len(left) == 0 {
		return nil
	}
	warmth := bathAtEnd(left, h)
	if slices.ContainsFunc(left, func(y SheetInStep) bool { return y.Developed.Uncertain }) {
		return []string{fmt.Sprintf("%s: the bath was outside the recipe's table, and that is uncertain: %s.", st.Plan.Name, developedTo(left))}
	}
	off := slices.DeleteFunc(slices.Clone(left), func(y SheetInStep) bool { return math.Abs(y.Developed.Share()-1) < leastShare })
	switch {
	case len(off) == 0 && warmth == "":
		return nil
	case len(off) == 0:
		last := left[len(left)-1]
		return []string{fmt.Sprintf("%s: %s; the time followed, %s instead of %s. Read the bath shortly before the first sheet goes in and plan with that.",
			st.Plan.Name, warmth, sequence.FormatElapsed(last.Given), sequence.FormatElapsed(plannedTime(p, i, last.Sheet)))}
	case warmth != "":
		return []string{fmt.Sprintf("%s: %s: %s%s.", st.Plan.Name, warmth, developedTo(off), sheetsNamed(off, len(left)))}
	}
	var list []string
	for _, y := range off {
		list = append(list, fmt.Sprintf("%s: sheet %d was in for %s, planned %s: %s.", st.Plan.Name, y.Sheet,
			sequence.FormatElapsed(y.Given), sequence.FormatElapsed(plannedTime(p, i, y.Sheet)), developedTo([]SheetInStep{y})))
	}
	return list
}

// leftOf are the stays of sheets that have left a developer and were not lost.
func leftOf(st *StepDone) []SheetInStep {
	var left []SheetInStep
	for _, y := range st.Sheets {
		if y.Out != sequence.Never && y.Developed != nil && !y.Aside {
			left = append(left, y)
		}
	}
	return left
}

// bathAtEnd says how warm the bath was when the last sheet left; "" where that
// was as planned, or is not known.
func bathAtEnd(left []SheetInStep, h sequence.Units) string {
	last := left[0]
	for _, y := range left {
		if y.Out > last.Out {
			last = y
		}
	}
	d := last.Developed
	if d.Bath == nil || math.Abs(float64(*d.Bath-*d.Planned)) < leastDifference {
		return ""
	}
	return fmt.Sprintf("%s at the end, %s planned", h.ToTenth(*d.Bath), h.ToTenth(*d.Planned))
}

// plannedTime is how long the plan had a sheet in step i.
func plannedTime(p *sequence.Plan, i, sheet int) sequence.Elapsed {
	for _, y := range p.Passages {
		if y.Step == i && y.Sheet == sheet {
			return y.Out - y.In
		}
	}
	return p.Steps[i].Given
}

// developedTo is how far stays developed: "developed 111% (100% is right)", or a range.
func developedTo(off []SheetInStep) string {
	lowest, highest := off[0].Developed.Share(), off[0].Developed.Share()
	for _, y := range off {
		lowest, highest = min(lowest, y.Developed.Share()), max(highest, y.Developed.Share())
	}
	low, high := fmt.Sprintf("%.0f", 100*lowest), fmt.Sprintf("%.0f", 100*highest)
	if low != high {
		high = low + "–" + high
	}
	return fmt.Sprintf("developed %s%% (100%% is right)", high)
}

// sheetsNamed names the sheets where not all are meant.
func sheetsNamed(off []SheetInStep, all int) string {
	if len(off) == all {
		return ""
	}
	names := make([]string, len(off))
	for k, y := range off {
		names[k] = fmt.Sprint(y.Sheet)
	}
	return ", sheet " + strings.Join(names, ", ")
}

// shortBath tells of a bath that somebody cut short below the least that works.
func shortBath(st *StepDone) string {
	least := st.Plan.Given
	if st.Plan.LeastTime > 0 {
		least = min(least, st.Plan.LeastTime)
	}
	worst := SheetInStep{Given: sequence.Never}
	for _, y := range st.Sheets {
		if y.Out != sequence.Never && y.Given < worst.Given && !y.Aside {
			worst = y
		}
	}
	if worst.Given >= least-leastShort {
		return ""
	}
	text := fmt.Sprintf("%s: sheet %d had %s of at least %s", st.Plan.Name, worst.Sheet, sequence.FormatElapsed(worst.Given), sequence.FormatElapsed(least))
	switch st.Plan.Kind {
	case sequence.Fix:
		return text + ": fix and wash it again before it is kept."
	case sequence.Wash, sequence.WashingAid:
		return text + ": wash it again before it is kept."
	}
	return text + "."
}

// wetTimeText tells what the wet time says of the film's limit, with how the emulsion
// came through where somebody said so.
func wetTimeText(s *Session) []string {
	kept := slices.DeleteFunc(slices.Clone(s.Wet.Sheets), func(w SheetWetTime) bool { return w.Aside })
	if len(kept) == 0 {
		return nil
	}
	worst := kept[0]
	for _, w := range kept {
		if w.share() > worst.share() || w.share() == worst.share() && w.Total > worst.Total {
			worst = w
		}
	}
	wet := fmt.Sprintf("sheet %d was wet for %s in %s", worst.Sheet, sequence.FormatElapsed(worst.Total), vessels(worst))
	over := worst.Used != nil && *worst.Used > 1
	var limit string
	if worst.Used != nil {
		limit = fmt.Sprintf("%d %% of its limit", sequence.PercentUsed(*worst.Used))
	}
	switch {
	case s.Emulsion == "" && over:
		return []string{fmt.Sprintf("Wet time: %s, %s: look at the emulsion when it is dry, and note how it came through.", wet, limit)}
	case s.Emulsion == EmulsionSound && over:
		return []string{fmt.Sprintf("Wet time: %s, %s, and the emulsion is sound: handled in this way the film stands that.", wet, limit)}
	case s.Emulsion == EmulsionSound && limit == "":
		return []string{fmt.Sprintf("Wet time: %s, and the emulsion is sound: a wet limit of that is on the safe side.", wet)}
	case s.Emulsion == EmulsionLifted || s.Emulsion == EmulsionTorn:
		if limit != "" {
			wet += ", " + limit
		}
		return []string{fmt.Sprintf("Wet time: %s, and the emulsion is damaged (%s): set the wet limit below that, or handle it less.", wet, s.Emulsion)}
	}
	return nil
}

func vessels(w SheetWetTime) string {
	var names []string
	for _, v := range w.Vessels {
		names = append(names, string(v.Vessel))
	}
	return strings.Join(names, ", then ")
}

// missedText counts the cues that fell into gaps.
func missedText(missed []sequence.Cue) string {
	count := map[sequence.CueKind]int{}
	for _, c := range missed {
		count[c.Kind]++
	}
	var each []string
	for _, k := range sequence.CueKinds {
		if n := count[k]; n > 0 {
			each = append(each, fmt.Sprintf("%s %d", k, n))
		}
	}
	return fmt.Sprintf("Gaps: %d cues were not given (%s).", len(missed), strings.Join(each, ", "))
}
