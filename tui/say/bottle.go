package say

// Bottles of mixed baths: how old, how far used, whether they can still be used.

import (
	"fmt"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/planning"
)

// Age is how long something has stood or keeps, in words: "45 s", "20 min", "1 h 30 min",
// "5 days". It is cut, never rounded up.
func Age(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d < time.Minute:
		return fmt.Sprintf("%d s", d/time.Second)
	case d < time.Hour:
		return fmt.Sprintf("%d min", d/time.Minute)
	case d >= 2*day:
		return fmt.Sprintf("%d days", d/day)
	case d >= day:
		return strings.TrimSuffix(fmt.Sprintf("1 day %d h", (d-day)/time.Hour), " 0 h")
	}
	return strings.TrimSuffix(fmt.Sprintf("%d h %d min", d/time.Hour, d%time.Hour/time.Minute), " 0 min")
}

// Readiness is whether a bottle can still be used.
type Readiness int

// From the best to the worst.
const (
	Ready       Readiness = iota
	AlmostSpent           // little is left
	Doubtful              // the clock says that it was mixed in the future
	Stale                 // older than it keeps
	Spent                 // it has done what it can
)

// almost is the share of the capacity from which a bottle is almost spent (our own rule).
const almost = 0.8

// BottleState is whether a bottle can still be used, and that in words.
func BottleState(b *bottles.Bottle, now time.Time) (Readiness, string) {
	k := b.OpenBottle(now)
	room, known := planning.Serves(&k)
	switch {
	case b.Bath.OneShot && b.Area > 0:
		return Spent, "spent: for one session"
	case known && b.Sheets() >= room:
		return Spent, "spent"
	case b.FreshClearing > 0 && b.Clearing >= 2*b.FreshClearing:
		return Spent, "spent: clears too slowly"
	case k.WorkingLife > 0 && k.Age > k.WorkingLife:
		return Stale, "too old"
	case k.Age < 0:
		return Doubtful, "mixed in the future?"
	case known && b.Sheets() >= almost*room:
		return AlmostSpent, "almost spent"
	}
	return Ready, "ready"
}

// BottleAge is how old a bottle is; "?" where the clock cannot say.
func BottleAge(b *bottles.Bottle, now time.Time) string {
	if age := b.OpenBottle(now).Age; age >= 0 {
		return Age(age)
	}
	return "?"
}

// BottleUse is how many sheets of 4x5in a bottle has done of those that it takes, both to
// the careful side: "6 of 25"; "6" where its capacity is not given.
func BottleUse(b *bottles.Bottle) string {
	done := wholeUp(b.Sheets())
	if room, known := serves(b); known {
		return fmt.Sprintf("%d of %d", done, wholeDown(room))
	}
	return fmt.Sprint(done)
}

// BottleLeft is what a bottle still takes: "19 sheets of 4x5in left".
func BottleLeft(b *bottles.Bottle) string {
	room, known := serves(b)
	switch {
	case b.Bath.OneShot:
		return "for one session"
	case !known:
		return "capacity not given"
	}
	return SheetsLeft(max(0, room-b.Sheets())) + " left"
}

// serves is how many sheets of 4x5in a bottle takes in all.
func serves(b *bottles.Bottle) (float64, bool) {
	k := b.OpenBottle(b.Mixed)
	return planning.Serves(&k)
}

// BottleClearing is its clearing time: "clears in 1:20 (1:00 when fresh)"; "" where none was
// measured.
func BottleClearing(b *bottles.Bottle) string {
	if b.Clearing <= 0 {
		return ""
	}
	text := "clears in " + sequence.FormatElapsed(b.Clearing)
	if b.FreshClearing > 0 && b.FreshClearing != b.Clearing {
		text += " (" + sequence.FormatElapsed(b.FreshClearing) + " when fresh)"
	}
	if by, ok := b.OpenBottle(b.Mixed).CapacityByClearing(); ok {
		text += fmt.Sprintf(": by that it serves about %d sheets of 4x5in in all", int(by+1e-9))
	}
	return text
}

// BottleBehind is what a fixer did as the second of two: "12 sheets behind another fixer, which count there"; "" for
// nothing.
func BottleBehind(b *bottles.Bottle) string {
	if b.AreaBehind <= 0 {
		return ""
	}
	return SheetsDone(b.SheetsBehind()) + " fixed behind another fixer, on which they count"
}

// BottleFollower is which bottle takes the place of one that has done film, and when: "" for none.
func BottleFollower(b *bottles.Bottle, all bottles.Inventory, now time.Time) string {
	second, ok := all.Successor(*b)
	if !ok || b.Retired != nil || b.Area == 0 {
		return ""
	}
	over := func(b *bottles.Bottle) bool { r, _ := BottleState(b, now); return r == Spent || r == Stale }
	switch {
	case !over(b):
		return "when it is spent " + second.Name + " takes its place"
	case over(&second):
		return "throw it away, collect its silver, and " + second.Name + " too: neither can be used"
	}
	return "throw it away, collect its silver: " + second.Name + " takes its place, and a new second is mixed"
}

// BottleSilver is what the last test for residual silver found; "" for none.
func BottleSilver(b *bottles.Bottle) string {
	switch {
	case b.SilverTest == nil:
		return ""
	case b.SilverLeft:
		return "SILVER LEFT in film fixed in it: fix that again"
	}
	return "no silver left in film fixed in it"
}

// BottleReuse is what a developer's use so far does to the time of the next session, and the replenisher that it
// wants: "develops 10% longer; wants 60 ml of replenisher"; "" where nothing is said of using it again.
func BottleReuse(b *bottles.Bottle, u sequence.Units) string {
	k, r := b.OpenBottle(b.Mixed), b.Bath.Reuse
	if r == nil || k.Volume <= 0 {
		return ""
	}
	factor, known := r.Factor(r.Unmade(k.SheetsDone, k.Replenished) / float64(k.Volume) * 1000)
	text := "develops " + longer(factor)
	switch {
	case !known:
		text = "used further than is known how much longer it takes"
	case factor == 1:
		text = "develops as when fresh"
	}
	if owed := r.Owed(k.SheetsDone, k.Replenished); owed > 0 {
		text += fmt.Sprintf("; wants %s of replenisher", Volume(owed, u))
	}
	return text
}

// BottleCondition is how a bottle stands: whether it can still be used, how old it is and how long it
// keeps, what it has done, how it clears; "retired" where it is.
func BottleCondition(b *bottles.Bottle, now time.Time, u sequence.Units) []string {
	_, state := BottleState(b, now)
	age, retired := "", ""
	if k := b.OpenBottle(now); k.Age >= 0 {
		age = Age(k.Age) + " old"
		if k.WorkingLife > 0 {
			age += ", keeps " + Age(k.WorkingLife)
		}
	}
	if b.Retired != nil {
		retired = "retired"
	}
	return filled(state, age, BottleUse(b)+" sheets of 4x5in done", BottleBehind(b), BottleClearing(b),
		BottleReuse(b, u), BottleSilver(b), retired)
}
