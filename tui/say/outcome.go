package say

// What came of a session that is over: the result in one line, and what differed from plan.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
)

// asPlanned is how far from its development a sheet may be and still count as it was planned: what
// hands and thermometers can do.
const asPlanned = 0.02

// Outcome is the result in one line: "Done. Every sheet developed to within 1%; wet 26:20,
// 86% of limit."
func Outcome(p *sequence.Plan, l engine.Snapshot, done []engine.Development) string {
	line := "Done."
	if l.Over == sequence.SessionStopped {
		line = "Ended early, after " + sequence.FormatElapsed(l.End)
		if l.Step >= 0 {
			line += " in " + StepName(p.Steps[l.Step].Name)
		}
		line += "."
	}
	rest := howDeveloped(l, done)
	if l.Wet.Total > 0 {
		rest = joined(rest, "wet "+WetShare(l.Wet.Total, l.Wet.Used))
	}
	for k, s := range l.Sheets {
		if s.Aside {
			rest = joined(rest, p.Recipe.Load.SheetName(k+1)+" set aside in water")
		}
	}
	if rest == "" {
		return line
	}
	return line + " " + Capital(rest) + "."
}

// howDeveloped is how near the sheets came to their development.
func howDeveloped(l engine.Snapshot, done []engine.Development) string {
	var shares []float64
	for _, d := range leftDeveloper(l, done) {
		if !l.Sheets[d.Sheet-1].Aside {
			shares = append(shares, d.Share())
		}
	}
	return developedWithin(shares)
}

// developedWithin is how near several shares of a development came to it; "" for none.
func developedWithin(shares []float64) string {
	if len(shares) == 0 {
		return ""
	}
	least, most := slices.Min(shares), slices.Max(shares)
	off := max(1-least, most-1)
	within := fmt.Sprintf("developed to within %d%%", max(1, int(math.Ceil(100*off-1e-6))))
	low, high := Percent(least), Percent(most)
	switch {
	case off <= asPlanned && len(shares) == 1:
		return within
	case off <= asPlanned:
		return "every sheet " + within
	case low == high:
		return "developed " + low + " of plan"
	}
	return "developed " + low + " to " + high + " of plan"
}

// leftDeveloper are the developments that have ended.
func leftDeveloper(l engine.Snapshot, done []engine.Development) (list []engine.Development) {
	for _, d := range done {
		for _, y := range l.Passages {
			if y.Step == d.Step && y.Sheet == d.Sheet && y.Out != sequence.Never && d.Of > 0 {
				list = append(list, d)
			}
		}
	}
	return list
}

// Differed is what was not as planned, of one sheet or a step, and what that was.
type Differed struct{ What, Planned, Actual, Change string }

// worthTelling is a change of a time that is told.
const worthTelling = 1500 * time.Millisecond

// AllDiffered is what differed from plan: each sheet's development, then the other steps'
// times.
func AllDiffered(p *sequence.Plan, l engine.Snapshot, done []engine.Development) []Differed {
	list, told := developedOtherwise(p, l, done)
	for i := range p.Steps {
		planned, actual, ok := longest(p, l, i)
		name := StepName(p.Steps[i].Name)
		switch change := (actual - planned).Round(time.Second); {
		case told[i]:
		case !ok:
			list = append(list, Differed{name, sequence.FormatElapsed(planned), "not begun", ""})
		case (actual - planned).Abs() > worthTelling:
			text := sequence.FormatElapsed(change)
			if change > 0 {
				text = "+" + text
			}
			list = append(list, Differed{name, sequence.FormatElapsed(planned), sequence.FormatElapsed(actual), Minus(text)})
		}
	}
	for k, s := range l.Sheets {
		if s.Aside {
			list = append(list, Differed{p.Recipe.Load.SheetName(k + 1), "", "set aside", "wet " + sequence.FormatElapsed(s.Wet)})
		}
	}
	return list
}

// developedOtherwise is the sheets that had another development than planned, those with the
// same beneath one name, and of which steps that is.
func developedOtherwise(p *sequence.Plan, l engine.Snapshot, done []engine.Development) ([]Differed, map[int]bool) {
	var list []Differed
	var sheets [][]int
	told := map[int]bool{}
	for _, d := range leftDeveloper(l, done) {
		if math.Abs(d.Share()-1) <= asPlanned/4 {
			continue
		}
		one := Differed{StepName(p.Steps[d.Step].Name), sequence.FormatElapsed(d.Of), sequence.FormatElapsed(d.Done), fmt.Sprintf("%.0f%% of plan", 100*d.Share())}
		if d.Uncertain {
			one.Change += ", uncertain"
		}
		told[d.Step] = true
		if n := len(list) - 1; n >= 0 && list[n] == one {
			sheets[n] = append(sheets[n], d.Sheet)
			continue
		}
		list, sheets = append(list, one), append(sheets, []int{d.Sheet})
	}
	for i, s := range sheets {
		name := p.Recipe.Load.SheetName(s[0])
		switch {
		case len(s) > 1 && len(s) == p.Sheets:
			name = "every sheet"
		case len(s) > 1:
			name = "sheets " + Ranged(s)
		}
		list[i].What = name + ", " + list[i].What
	}
	return list, told
}

// longest is how long step i was planned to be a sheet's bath, and was.
func longest(p *sequence.Plan, l engine.Snapshot, i int) (planned, actual sequence.Elapsed, ok bool) {
	for _, y := range p.Passages {
		if y.Step == i {
			planned = max(planned, y.Out-y.In)
		}
	}
	for _, y := range l.Passages {
		if y.Step == i {
			ok = true
			actual = max(actual, min(y.Out, max(l.End, y.In))-y.In)
		}
	}
	return planned, actual, ok
}

// Ranged is sheets' numbers: "1–4", "1, 3".
func Ranged(list []int) (text string) {
	for i := 0; i < len(list); {
		k := i
		for k+1 < len(list) && list[k+1] == list[k]+1 {
			k++
		}
		if text != "" {
			text += ", "
		}
		text += strconv.Itoa(list[i])
		if k > i {
			text += "–" + strconv.Itoa(list[k])
		}
		i = k + 1
	}
	return text
}

// Developer is a developing step's dilution and agitation in words.
func Developer(p *sequence.Plan, i int) string {
	st := &p.Steps[i]
	text := st.Name + ": "
	if mixture := p.Recipe.MixtureOf(&st.Step); mixture != "" {
		text += mixture + "; "
	}
	return text + "agitation " + Agitation(planning.AgitationAsDone(st.Agitate, st.Stack))
}

// inDeveloper is how long a sheet was in a developer, and what that comes to at the recipe's temperature where one is
// known.
func inDeveloper(d engine.Development, p *sequence.Plan, given sequence.Elapsed, h sequence.Units) string {
	st := &p.Steps[d.Step]
	text := st.Name + ": " + Elapsed(given)
	if w := st.TimeByTemperature; w != nil {
		text += ", equivalent to " + Elapsed(d.Done) + " at " + Temperature(w.At, h)
	}
	return text
}

// AllDeveloped is all that was developed: of each developer first what it was, then a line for the sheets that had the
// same of it. Stays that have not ended count until a moment.
func AllDeveloped(p *sequence.Plan, film []sequence.Passage, done []engine.Development, until sequence.Elapsed, h sequence.Units) (lines []string) {
	step, text, sheets := -1, "", []int(nil)
	flush := func() {
		if len(sheets) > 0 {
			lines = append(lines, SheetNames(&p.Recipe.Load, sheets)+", "+text)
		}
		sheets = nil
	}
	for _, d := range done {
		for _, y := range film {
			if y.Step != d.Step || y.Sheet != d.Sheet {
				continue
			}
			now := inDeveloper(d, p, min(y.Out, max(until, y.In))-y.In, h)
			if now != text || d.Step != step {
				flush()
			}
			if d.Step != step {
				lines = append(lines, Developer(p, d.Step))
			}
			step, text, sheets = d.Step, now, append(sheets, d.Sheet)
		}
	}
	flush()
	return lines
}

// LastKnown is where film was when a record ends: "film was in the developer for 4:10 at 21:04:10".
func LastKnown(p *sequence.Plan, s engine.Snapshot, wall time.Time) string {
	at := " at " + wall.Format("15:04:05")
	if s.Step < 0 || s.Step >= len(p.Steps) {
		return "film was dry" + at
	}
	st := p.Steps[s.Step]
	bath := StepName(st.Name)
	if st.Bath != "" {
		bath = "the " + st.Bath
	}
	return "film was in " + bath + " for " + Elapsed(s.TimeInStep) + at
}

// NotAsMeant names the sheets that have more or less of their development than meant, each with how
// much; "" where none has.
func NotAsMeant(p *sequence.Plan, sheets []engine.SheetSnapshot) string {
	const worthSaying = 0.005
	var far, little string
	last := len(p.Steps) // that develops
	for i, st := range p.Steps {
		if st.Kind == sequence.Develop {
			last = i
		}
	}
	own := last < len(p.Steps) && (p.OwnTimes(last) || p.Steps[last].StaggeredEntry()) // sheets that share a time have no share of their own
	for k, s := range sheets {
		text := fmt.Sprintf("%s, %d%%", p.Recipe.Load.SheetName(k+1), sequence.PercentDeveloped(s.DevelopedShare))
		if s.Uncertain {
			text += " (uncertain)"
		}
		switch part := s.DevelopedShare - 1; {
		case part > worthSaying:
			far = joined(far, text)
		case part < -worthSaying && (s.DevelopedShare > 0 || own && s.Step > last && !s.Aside): // none yet is nothing to say
			little = joined(little, text)
		}
	}
	if far != "" {
		far = "Overdeveloped: " + far
	}
	if little != "" {
		far = joined(far, "Underdeveloped: "+little)
	}
	if far == "" {
		return ""
	}
	return far + " (100% is right)"
}
