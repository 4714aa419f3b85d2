package say

// A session that goes on: what the hands do, what comes next, and what the clock counts to.

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/schedule"
)

var doingWords = map[sequence.Doing]string{
	sequence.Loading: "LOAD", sequence.Shuffling: "SHUFFLE", sequence.Agitating: "AGITATE", sequence.Standing: "STAND",
	sequence.Draining: "DRAIN", sequence.Transfer: "TRANSFER", sequence.Pulling: "PULL", sequence.Pouring: "POUR",
	sequence.Reversing: "REVERSE",
}

// Doing is the one word for what the hands do. Where film stands because it dries, or because its
// water is changed, the word is that of the step.
func Doing(p *sequence.Plan, h sequence.Hand) string {
	if h.Do == sequence.Standing {
		switch stillnessOf(p, h.Step) {
		case drying:
			return "DRY"
		case washing:
			return "WASH"
		}
	}
	return doingWords[h.Do]
}

// stillness is why nothing is done to film that stands.
type stillness int

const (
	standing stillness = iota
	drying             // it is out of all baths
	washing            // water runs over it, or is changed
)

func stillnessOf(p *sequence.Plan, step string) stillness {
	i := p.StepIndex(step)
	switch {
	case i >= len(p.Steps):
		return standing
	case p.Steps[i].OutsideWetTime:
		return drying
	case p.Steps[i].Agitate.Mode != sequence.Pattern && (p.Steps[i].Kind == sequence.Wash || p.Steps[i].Kind == sequence.Rinse):
		return washing
	}
	return standing
}

// HandsNow is what the hands do, in a sentence; left is for how long, 0 for as long as it takes.
func HandsNow(p *sequence.Plan, h sequence.Hand, left sequence.Elapsed) string {
	during := ""
	if left > 0 {
		during = " for another " + Short(left)
	}
	switch h.Do {
	case sequence.Loading:
		return "Load a sheet at each tone."
	case sequence.Shuffling:
		return "Bottom sheet to the top at each tone."
	case sequence.Agitating:
		return "Agitate" + during + "."
	case sequence.Draining:
		return "Lift and let drip."
	case sequence.Transfer:
		return "A sheet at a time into " + bathAfter(p, h.Step) + "."
	case sequence.Pulling:
		return Capital(p.Recipe.Load.SheetName(h.Sheet)) + " into " + bathAfter(p, h.Step) + "."
	case sequence.Pouring:
		return "Pour out " + StepName(h.Step) + "."
	case sequence.Reversing:
		return "Turn the drum the other way."
	}
	switch stillnessOf(p, h.Step) {
	case drying:
		return "Nothing to do" + during + ": the film dries."
	case washing:
		return "Fresh water, running or changed," + during + "."
	}
	return "Let it stand" + during + "."
}

func bathAfter(p *sequence.Plan, step string) string { return StepName(p.Next(step)) }

// CueNow is what a cue asks for that is over in a moment; "" for one whose hands go on.
func CueNow(p *sequence.Plan, c sequence.Cue) string {
	sheet := ""
	if c.Sheet > 0 {
		sheet = " " + p.Recipe.Load.SheetName(c.Sheet)
	}
	i := p.StepIndex(c.Step) % len(p.Steps)
	switch c.Kind {
	case sequence.CueTransfer:
		return transferNow(p, i, sheet, c.Sheet)
	case sequence.CueLoad, sequence.CuePull:
		return Capital(CueName(c.Kind)) + sheet + " now."
	case sequence.CueDrain:
		if p.Steps[i].Vessel.Closed() {
			return "Pour out."
		}
		return "Lift" + sheet + " and let drip."
	case sequence.CueShuffle:
		if sequence.WaitsInWater(p, i) {
			return "Shuffle what waits in plain water."
		}
		return "Bottom sheet to the top."
	case sequence.CueReverse:
		return "The drum turns the other way."
	case sequence.CueWetWarning, sequence.CueWetLimit, sequence.CueLightsOffer:
		return Capital(CueName(c.Kind)) + "."
	case sequence.CueLightsOut:
		return "Lights out: the next step is dark."
	case sequence.CueReading:
		return "The reading changes the end of developing."
	}
	return ""
}

// transferNow is a transfer out of step i.
func transferNow(p *sequence.Plan, i int, sheet string, n int) string {
	switch {
	case n > 0 && sequence.WaitsInWater(p, i):
		return "Set" + sheet + " aside in plain water now."
	case i+1 >= len(p.Steps):
		return "Lift" + sheet + " out now."
	case p.Steps[i].Vessel.Closed():
		return "Pour in " + StepName(p.Steps[i+1].Name) + " now."
	}
	return "Move" + sheet + " into " + StepName(p.Steps[i+1].Name) + " now."
}

// CueOfSheet is a cue in a word or two, with its sheet: "drain sheet 1".
func CueOfSheet(c sequence.Cue) string {
	name := CueName(c.Kind)
	if c.Sheet > 0 {
		name += " sheet " + strconv.Itoa(c.Sheet)
	}
	return name
}

// CueAhead is a cue that is to come: "drain sheet 1"; of what waits in plain water that it is that:
// "shuffle what waits".
func CueAhead(p *sequence.Plan, c sequence.Cue) string {
	if i := p.StepIndex(c.Step); c.Kind == sequence.CueShuffle && i < len(p.Steps) && sequence.WaitsInWater(p, i) {
		return CueName(c.Kind) + " what waits"
	}
	return CueOfSheet(c)
}

// NextTransfer is the coming change of bath, the most said first: "sheet 1 goes into stop
// bath", "sheet 1 into stop bath", "stop bath".
func NextTransfer(p *sequence.Plan, n engine.Transfer) []string {
	name, sheet, number := StepName(p.StepName(n.Step)), "", ""
	if n.Sheet > 0 {
		number = "sheet " + strconv.Itoa(n.Sheet)
		sheet = p.Recipe.Load.SheetName(n.Sheet)
	}
	switch {
	case sheet != "" && n.Pull:
		return []string{sheet + " is pulled", sheet + " pulled", number + " pulled"}
	case sheet != "" && name == "":
		return []string{sheet + " comes out", sheet + " out", number + " out"}
	case name == "":
		return []string{"the film comes out", "film out"}
	case sheet != "":
		return []string{sheet + " goes into " + name, sheet + " into " + name, number + " into " + name, name}
	}
	return []string{name}
}

// Taken is said of a temperature once it is taken; what it changes stands beside the next transfer.
func Taken(r sequence.TakeReading) string {
	return Reading(r.T, r.Units) + " taken. A time that it changes stands beside next."
}

// SinceReading is where a reading put the next transfer.
func SinceReading(at, was sequence.Elapsed) string {
	return fmt.Sprintf("since the reading at %s instead of %s", sequence.FormatElapsed(at), sequence.FormatElapsed(was))
}

// WetNow is the worst sheet's wet time by now, and what it comes to, from the most to the
// least that is said of it: whoever has no room takes a later one.
func WetNow(p *sequence.Plan, l engine.Snapshot) []string {
	if len(l.Sheets) == 0 {
		return nil
	}
	worst := l.Sheets[l.Wettest]
	short, sheet := sequence.FormatElapsed(worst.Wet), ""
	if slices.ContainsFunc(l.Sheets, func(s engine.SheetSnapshot) bool { return s.Wet != worst.Wet }) {
		sheet = "; worst " + p.Recipe.Load.SheetName(l.Wettest+1)
	}
	w := l.Wet
	if w.Limit == nil || w.Used == nil || w.Margin == nil {
		return []string{short + ", no limit known" + sheet, short + ", no limit known"}
	}
	now := short + ", " + Share(worst.Used) + " of limit"
	if l.Over != "" {
		return []string{now + sheet, now}
	}
	end, spare := "; at the end "+Share(*w.Used), ", "+InHand(w.Margin)
	return []string{now + end + spare + sheet, now + end + spare, short + end + spare, short + end}
}

// DevelopedNow is how far the developing that goes on has come, the most said first.
func DevelopedNow(d *engine.DevelopmentProgress, sheet string, u sequence.Units) []string {
	short := "0%"
	if d.Of > 0 {
		short = fmt.Sprintf("%d%%", sequence.PercentDeveloped(d.Share()))
	}
	if sheet != "" {
		short += " of " + sheet
	}
	if d.Error > schedule.ToldFrom {
		short += " " + off(d.Error)
	}
	long := short + ": " + sequence.FormatElapsed(d.Done) + " of " + sequence.FormatElapsed(d.Of)
	if d.At != nil {
		long += " (" + Temperature(*d.At, u) + " equivalent)"
	}
	if d.Uncertain {
		return []string{long + "; uncertain: outside the recipe's table", short + "; uncertain: outside the table", short + " (uncertain)"}
	}
	return []string{long, short}
}

// off is how far development may be off, to the careful side: "±4%".
func off(share float64) string { return fmt.Sprintf("±%d%%", sequence.PercentOff(share)) }

// BathNow is the temperature of the bath that goes on, with how far it may be off: "22.5 °C ±0.4".
func BathNow(d *engine.DevelopmentProgress, u sequence.Units) string {
	text := Reading(*d.Temperature, u)
	if d.Band > 0 {
		text += fmt.Sprintf(" ±%.1f", u.Off(d.Band))
	}
	return text
}

// ReadBy is when another reading would help most: "read the developer by 4:00: development is ±5% without, ±3% with
// that".
func ReadBy(at sequence.Elapsed, without, with float64) string {
	return fmt.Sprintf("read the developer by %s: at the end development is %s without that, %s with it", Elapsed(at), off(without), off(with))
}

// ReadNext is ReadBy of the developing that goes on, the most said first; nil where no reading is worth it.
func ReadNext(d *engine.DevelopmentProgress) []string {
	if d == nil || d.ReadBy == nil {
		return nil
	}
	at := "by " + Elapsed(*d.ReadBy)
	return []string{at + ": at the end " + off(d.AtEnd) + " without that, " + off(d.AtEndIf) + " with it", at + ": " + off(d.AtEnd) + " to " + off(d.AtEndIf), at}
}

// LeftOf is how long it is from what a clock shows until a moment: both add up to that
// moment in whole seconds, as it is written, also before 0.
func LeftOf(shown, at sequence.Elapsed) sequence.Elapsed {
	at += time.Second / 2
	return at - (at%time.Second+time.Second)%time.Second - shown
}
