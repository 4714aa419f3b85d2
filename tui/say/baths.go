package say

// Baths: what to mix, what a bottle is and has done, what a plan takes of it.

import (
	"fmt"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// WaterTray is the tray that a film test needs besides the recipe's baths.
const WaterTray = "a tray of plain water beside it: sheets that were pulled early are set aside in it, and shuffled, until the last has been pulled"

// Drain is when film drains at the end of a step: inside its time, or behind the person's signal.
func Drain(st *sequence.Step) string {
	if st.WaitForPerson {
		return "then drain " + Span(st.Drain) + " on your signal"
	}
	return "drain for the last " + Span(st.Drain)
}

// PullOrder is how the sheets of a film test come out of the developer, behind their times; ""
// where each waits in water for the others.
func PullOrder(st *sequence.Step) string {
	switch {
	case st.LeaveTogether:
		return ", the longest first, all out together"
	case st.StraightOn:
		return ", each straight on to the fixer when it has had the stop bath's time"
	}
	return ""
}

// JoinedUntil is how long sheets of a film test come in one by one; the bath's time counts from the last.
func JoinedUntil(clock string) string {
	return "sheets come in one by one until " + clock + ", and the time counts from the last"
}

// BottleFacts is how old a bath is and what it has done: "mixed 5 days ago, 6 sheets of
// 4x5in done".
func BottleFacts(k sequence.OpenBottle) string {
	if k.Age < 0 {
		return "mixed in the future by this clock, " + SheetsDone(k.SheetsDone) + " done"
	}
	return "mixed " + Age(k.Age) + " ago, " + SheetsDone(k.SheetsDone) + " done"
}

// Reused is what a step's time allows for because its bath was used before: "10% longer after 6 sheets in dev-1"; ""
// for a fresh one.
func Reused(st *sequence.PlanStep) string {
	u := st.Reused
	if u == nil {
		return ""
	}
	return fmt.Sprintf("%s after %s in %s", longer(u.Factor), Count(wholeUp(u.Sheets), "sheet"), u.Bottle)
}

func longer(factor float64) string { return Percent(factor-1) + " longer" }

// FixTimes is what a fixer's clearing time means for fixing; "" where none was measured.
func FixTimes(k sequence.OpenBottle) string {
	one, _, err := chem.FixTime(k.Clearing, 1, false)
	two, _, _ := chem.FixTime(k.Clearing, 2, false)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("fix for %s, or %s in each of two baths; a tabular emulsion half as long again", Elapsed(one), Elapsed(two))
}

// CapacityUsed is what the plan's sheets take of what a kept bath can still serve; "" for
// one that is mixed fresh, or whose capacity is not given.
func CapacityUsed(p *sequence.Plan, b *sequence.Bath) string {
	need, left, known := planning.CapacityUsed(p, b)
	if !known {
		return ""
	}
	line := fmt.Sprintf("takes %d of the %s that it can still do", wholeUp(need), SheetsLeft(left))
	if short := wholeUp(need) - wholeDown(left); short > 0 {
		line += fmt.Sprintf(", SHORT by %d", short)
	}
	return line
}

// Withdrawal is what a bath takes of a bottle: "A: 23.8 ml of the 116 ml in stock-a".
func Withdrawal(d sequence.Withdrawal, h sequence.Units) string {
	line := fmt.Sprintf("%s: %s of the %s in %s", d.Part, Volume(d.Volume, h), Volume(d.Left, h), d.Bottle)
	if d.Short > 0 {
		line += ", SHORT by " + Volume(d.Short, h)
	}
	return line
}

// Agitation is an agitation in words, as a plan's steps have it: "continuous", "first 1 min, then 10 s each minute".
func Agitation(a sequence.Agitation) string {
	if a.Mode != sequence.Pattern {
		return string(a.Mode)
	}
	return pattern(a)
}
