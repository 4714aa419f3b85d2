package say

// What to do now: one large word, and the same in a sentence. The figures that count down
// are cut from the shown second, so that they add up with the clock to the whole.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// momentFor is how long a word stands for an act that is over in a moment.
const momentFor = 3 * time.Second

// Instruction is the word for what the hands do, and the moment in plain letters.
func Instruction(p *sequence.Plan, l engine.Snapshot) (word, plain string) {
	switch {
	case l.Over == sequence.SessionStopped:
		return "ENDED", "Session ended early"
	case l.Over != "":
		return "DONE", "The last sheet is out"
	case l.Hands == nil:
		return withSheet("READY", l.Next.Sheet), Capital(transferText(p, l))
	}
	word, plain = handsWord(p, l)
	switch {
	case l.Held && l.Overdue > 0:
		return word, "Time is up, held, " + Elapsed(l.Overdue.Truncate(time.Second)) + " overdue; " + plain
	case l.Held:
		return word, "Held, time goes on; " + plain
	case l.Waiting:
		return word, "Time is up: space when ready; " + plain
	case l.Left > 0 && l.Left <= ReadyTime && l.Hands.Do != sequence.Transfer && l.Hands.Do != sequence.Loading:
		return word, "Be ready: " + transferText(p, l)
	}
	return word, Capital(plain)
}

// handsWords is a word for each thing that hands do.
var handsWords = map[sequence.Doing]string{
	sequence.Loading: "LOAD", sequence.Shuffling: "SHUFFLE", sequence.Agitating: "AGITATE", sequence.Standing: "STAND",
	sequence.Draining: "DRAIN", sequence.Transfer: "TRANSFER", sequence.Pulling: "PULL", sequence.Pouring: "POUR",
	sequence.Reversing: "REVERSE",
}

// handsWord is what the hands do, with the sheet that was just called; whatever else was
// heard in the last moments is told beside it.
func handsWord(p *sequence.Plan, l engine.Snapshot) (word, plain string) {
	h := l.Hands
	word, plain = handsWords[h.Do], handsPlainly(p, l)
	c := l.LastCue
	if c == nil || l.Now-c.At >= lasting(p, c) {
		return withSheet(word, h.Sheet), plain
	}
	sheet := h.Sheet
	switch c.Kind {
	case sequence.CueLoad, sequence.CueTransfer, sequence.CuePull, sequence.CueDrain, sequence.CueAgitate:
		sheet = c.Sheet
	}
	if heard := momentInstruction(p, c); heard != "" {
		plain = heard
	}
	return withSheet(word, sheet), plain
}

// lasting is for how long a cue stands beside what the hands do.
func lasting(p *sequence.Plan, c *sequence.Cue) time.Duration {
	if c.Kind == sequence.CueDrain {
		return max(momentFor, p.Steps[stepIndex(p, c.Step)].Drain)
	}
	return momentFor
}

// handsPlainly is what the hands do in plain letters.
func handsPlainly(p *sequence.Plan, l engine.Snapshot) string {
	h := l.Hands
	while := " for another " + Elapsed(LeftOn(l, h.Until))
	if l.Overdue > 0 {
		while = "" // for as long as it takes
	}
	switch h.Do {
	case sequence.Loading:
		return "load a sheet at each tone"
	case sequence.Shuffling:
		return "bring the bottom sheet to the top at each tone"
	case sequence.Agitating:
		return "agitate" + while
	case sequence.Draining:
		return "lift and let drip"
	case sequence.Transfer:
		return "a sheet at a time into " + p.Next(h.Step)
	case sequence.Pulling:
		return "pull " + p.Recipe.Load.SheetName(h.Sheet) + ", into " + p.Next(h.Step)
	case sequence.Pouring:
		return "pour out " + h.Step
	case sequence.Reversing:
		return "turn the drum the other way"
	}
	return "let it stand" + while
}

// withSheet is a word with the sheet that it is about; 0 is for all.
func withSheet(word string, sheet int) string {
	if sheet == 0 {
		return word
	}
	return fmt.Sprintf("%s %d", word, sheet)
}

// ReadyTime is how long before a change of bath it is announced.
const ReadyTime = 20 * time.Second

func sheetSuffix(p *sequence.Plan, c *sequence.Cue) string {
	if c.Sheet == 0 {
		return ""
	}
	return " " + p.Recipe.Load.SheetName(c.Sheet)
}

// transferText is the coming change of bath in words.
func transferText(p *sequence.Plan, l engine.Snapshot) string {
	n, in := l.Next, Elapsed(LeftOn(l, l.Now+l.Left))
	what := ""
	if n.Sheet > 0 {
		what = p.Recipe.Load.SheetName(n.Sheet) + " "
	}
	switch {
	case n.Pull:
		return what + "out of the developer in " + in
	case n.Step < len(p.Steps):
		return what + "into " + p.Steps[n.Step].Name + " in " + in
	}
	return what + "out in " + in
}

// ShownSecond is the whole second that a moment lies in: what a clock shows of it.
func ShownSecond(now sequence.Elapsed) sequence.Elapsed {
	return (now - (now%time.Second+time.Second)%time.Second)
}

// LeftOn is how long it is until a moment. With what the clock shows it adds up to that
// moment in whole seconds.
func LeftOn(l engine.Snapshot, at sequence.Elapsed) sequence.Elapsed {
	return at.Round(time.Second) - ShownSecond(l.Now)
}

// momentInstruction is a cue in a sentence, for those that are over at once; "" for the others.
func momentInstruction(p *sequence.Plan, c *sequence.Cue) string {
	switch c.Kind {
	case sequence.CueTransfer:
		return transferInstruction(p, c)
	case sequence.CueLoad:
		return "load" + sheetSuffix(p, c) + ", now"
	case sequence.CuePull:
		return "pull" + sheetSuffix(p, c) + ", now"
	case sequence.CueDrain:
		if p.Steps[stepIndex(p, c.Step)].Vessel.Closed() {
			return "pour out"
		}
		return "lift" + sheetSuffix(p, c) + " and let drip"
	case sequence.CueShuffle:
		if isSetAside(p, c) {
			return "shuffle what is set aside in water"
		}
		return "the bottom sheet to the top"
	case sequence.CueReverse:
		return "the drum turns the other way"
	case sequence.CueWetWarning:
		return "wet limit near"
	case sequence.CueWetLimit:
		return "wet limit passed"
	case sequence.CueLightsOffer:
		return "safe to turn on the room light"
	case sequence.CueLightsOut:
		return "switch lights off: the next step is dark"
	case sequence.CueReading:
		return "the reading changes the end of developing"
	}
	return ""
}

// stepIndex is the step of that name; the first where there is none.
func stepIndex(p *sequence.Plan, name string) int {
	return max(0, slices.IndexFunc(p.Steps, func(st sequence.PlanStep) bool { return st.Name == name }))
}

// transferInstruction is a move out of the step that the cue names.
func transferInstruction(p *sequence.Plan, c *sequence.Cue) string {
	i := stepIndex(p, c.Step)
	switch {
	case c.Sheet > 0 && i > 0 && p.Steps[i-1].PullsSheets():
		return "set " + p.Recipe.Load.SheetName(c.Sheet) + " aside in water, now"
	case i+1 == len(p.Steps):
		return "lift" + sheetSuffix(p, c) + " out, now"
	case p.Steps[i].Vessel.Closed():
		return "pour in " + p.Steps[i+1].Name + ", now"
	}
	return "transfer" + sheetSuffix(p, c) + " into " + p.Steps[i+1].Name + ", now"
}

// isSetAside reports whether a cue is for the sheets of a film test that wait for the rest.
func isSetAside(p *sequence.Plan, c *sequence.Cue) bool {
	i := stepIndex(p, c.Step)
	return i > 0 && p.Steps[i-1].PullsSheets()
}

// CueOfSheet is a cue in a word or two, with the sheet that it is for.
func CueOfSheet(c *sequence.Cue) string {
	if c.Sheet > 0 {
		return CueName(c.Kind) + " sheet " + fmt.Sprint(c.Sheet)
	}
	return CueName(c.Kind)
}
