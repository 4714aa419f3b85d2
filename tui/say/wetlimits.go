package say

// Wet time: the limits that hold, and what a change makes of the time in hand.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
)

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
