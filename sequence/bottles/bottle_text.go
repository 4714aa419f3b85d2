package bottles

// How a bottle stands, in words.

import (
	"fmt"
	"time"

	"example.org/wetside/sequence"
)

// Condition is how a bottle stands, in words: age, what it has done, what is left.
func (b Bottle) Condition(now time.Time) []string {
	k := b.OpenBottle(now)
	list := []string{b.age(k)}
	room, known := k.Capacity()
	done := fmt.Sprintf("%.4g sheets of 4x5in (%.4g sq in) done", b.Sheets(), b.Area)
	switch {
	case b.Bath.OneShot && b.Area > 0:
		done += ", SPENT: it was for one session"
	case known && b.Sheets() >= room:
		done += fmt.Sprintf(", SPENT: it serves %.4g", room)
	case known:
		done += fmt.Sprintf(", %.4g left", room-b.Sheets())
	case b.Area > 0:
		done += ", capacity not given"
	}
	list = append(list, done)
	switch {
	case b.Clearing > 0 && b.FreshClearing > 0:
		text := fmt.Sprintf("clears in %s, fresh %s", sequence.FormatElapsed(b.Clearing), sequence.FormatElapsed(b.FreshClearing))
		if b.Clearing >= 2*b.FreshClearing {
			text += ", SPENT"
		}
		list = append(list, text)
	case b.Clearing > 0:
		list = append(list, "clears in "+sequence.FormatElapsed(b.Clearing))
	}
	if b.Retired != nil {
		list = append(list, "retired")
	}
	return list
}

// age is how old it is, and how long it keeps.
func (b Bottle) age(k sequence.OpenBottle) string {
	switch {
	case k.Age < 0:
		return "mixed in the future by this clock: is it right?"
	case k.WorkingLife == 0:
		return sequence.FormatAge(k.Age) + " old"
	case k.Age > k.WorkingLife:
		return fmt.Sprintf("%s old, STALE: it keeps %s", sequence.FormatAge(k.Age), sequence.FormatAge(k.WorkingLife))
	}
	return fmt.Sprintf("%s old, keeps %s", sequence.FormatAge(k.Age), sequence.FormatAge(k.WorkingLife))
}
