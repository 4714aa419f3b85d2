package tui

// What to do now: one large word, and the same in plain letters.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// momentFor is how long a word stands for an act that is over in a moment.
const momentFor = 3 * time.Second

// instruction is the word for the moment and what it means.
func instruction(p *sequence.Plan, l engine.Snapshot) (word, plain string) {
	switch {
	case l.Over == sequence.SessionStopped:
		return "STOPPED", "the session was stopped"
	case l.Over != "":
		return "DONE", "the last film is out"
	case l.Held && l.Overdue > 0:
		return "HELD", "time is up, held; " + sequence.FormatElapsed(l.Overdue.Truncate(time.Second)) + " overdue"
	case l.Held:
		return "HELD", "moving on is held; time goes on"
	case l.Waiting:
		return withSheet(leaveWord(p, l.Step), l.Next.Sheet), "time is up: big key when done"
	case l.Now < 0:
		return withSheet("READY", l.Next.Sheet), transferText(p, l)
	case l.LastCue == nil:
		return "REST", "nothing to do"
	}
	return cueInstruction(p, l)
}

// withSheet is a word with the sheet that it is about; 0 is for all.
func withSheet(word string, sheet int) string {
	if sheet == 0 {
		return word
	}
	return fmt.Sprintf("%s %d", word, sheet)
}

// leaveWord is the word for leaving a step: film is moved, a closed vessel's bath is poured.
func leaveWord(p *sequence.Plan, step int) string {
	if step >= 0 && p.Steps[step].Vessel.Closed() {
		return "POUR"
	}
	return "MOVE"
}

// cueInstruction is the word for the last cue, for as long as it holds.
func cueInstruction(p *sequence.Plan, l engine.Snapshot) (word, plain string) {
	c, since := l.LastCue, l.Now-l.LastCue.At
	ready := l.Left > 0 && l.Left <= readyTime
	switch {
	case c.Kind == sequence.CueAgitate && since < c.For:
		return withSheet("AGITATE", c.Sheet), fmt.Sprintf("agitate%s for another %s", sheetSuffix(p, c), sequence.FormatElapsed(ceilSecond(c.For-since)))
	case c.Kind == sequence.CueDrain && since < max(momentFor, p.Steps[stepIndex(p, c.Step)].Drain):
		return withSheet("DRAIN", c.Sheet), drainText(p, l)
	case since < momentFor && c.Kind != sequence.CueReady && c.Kind != sequence.CueStand && c.Kind != sequence.CueTick:
		return momentInstruction(p, c)
	case ready && l.Next.Step < len(p.Steps):
		return withSheet("READY", l.Next.Sheet), "be ready: " + transferText(p, l)
	case ready:
		return "READY", transferText(p, l)
	case isShuffling(p, l):
		return "TURN", "turn at each tone, bottom to top"
	}
	return "REST", "at rest"
}

// readyTime is how long before a change of bath it is announced.
const readyTime = 20 * time.Second

func sheetSuffix(p *sequence.Plan, c *sequence.Cue) string {
	if c.Sheet == 0 {
		return ""
	}
	return " " + p.Recipe.Load.SheetName(c.Sheet)
}

func drainText(p *sequence.Plan, l engine.Snapshot) string {
	if p.Steps[stepIndex(p, l.LastCue.Step)].Vessel.Closed() {
		return "pour out"
	}
	return "lift" + sheetSuffix(p, l.LastCue) + " and let drip"
}

// transferText is the coming change of bath in words.
func transferText(p *sequence.Plan, l engine.Snapshot) string {
	n, left := l.Next, sequence.FormatElapsed(ceilSecond(l.Left))
	what := ""
	if n.Sheet > 0 {
		what = p.Recipe.Load.SheetName(n.Sheet) + " "
	}
	switch {
	case n.Pull:
		return what + "out of the developer in " + left
	case n.Step < len(p.Steps):
		return what + "into " + p.Steps[n.Step].Name + " in " + left
	}
	return what + "last lift in " + left
}

// ceilSecond is a time left in whole seconds; a second is shown until it is over.
func ceilSecond(left sequence.Elapsed) sequence.Elapsed {
	if left > 0 {
		left += time.Second - 1
	}
	return left.Truncate(time.Second)
}

// momentInstruction are the cues that are over at once.
func momentInstruction(p *sequence.Plan, c *sequence.Cue) (word, plain string) {
	switch c.Kind {
	case sequence.CueTransfer:
		return transferInstruction(p, c)
	case sequence.CueLoad:
		return withSheet("LOAD", c.Sheet), "load" + sheetSuffix(p, c) + ", now"
	case sequence.CuePull:
		return withSheet("TAKE OUT", c.Sheet), "take out" + sheetSuffix(p, c) + ", now"
	case sequence.CueShuffle:
		if isSetAside(p, c) {
			return "TURN", "turn over what waits in plain water"
		}
		return "TURN", "the bottom sheet to the top"
	case sequence.CueReverse:
		return "REVERSE", "the drum turns the other way"
	case sequence.CueWetWarning:
		return "WET", "wet time runs short"
	case sequence.CueWetLimit:
		return "WET", "wet time is over the limit"
	case sequence.CueLightsOffer:
		return "LIGHT", "light is possible now"
	case sequence.CueLightsOut:
		return "DARK", "lights out: the next step is dark"
	case sequence.CueReading:
		return "READ", "the reading changes the end of developing"
	}
	return "REST", "at rest"
}

// stepIndex is the step of that name; the first where there is none.
func stepIndex(p *sequence.Plan, name string) int {
	return max(0, slices.IndexFunc(p.Steps, func(st sequence.PlanStep) bool { return st.Name == name }))
}

// transferInstruction is a move out of the step that the cue names.
func transferInstruction(p *sequence.Plan, c *sequence.Cue) (word, plain string) {
	i := stepIndex(p, c.Step)
	switch {
	case c.Sheet > 0 && i > 0 && p.Steps[i-1].PullsSheets():
		return withSheet("ASIDE", c.Sheet), "set " + p.Recipe.Load.SheetName(c.Sheet) + " aside in plain water, now"
	case i+1 == len(p.Steps):
		return withSheet("LIFT", c.Sheet), "lift" + sheetSuffix(p, c) + " out, now"
	case p.Steps[i].Vessel.Closed():
		return "POUR", "pour in " + p.Steps[i+1].Name + ", now"
	}
	return withSheet("MOVE", c.Sheet), "move" + sheetSuffix(p, c) + " into " + p.Steps[i+1].Name + ", now"
}

// isShuffling reports whether turns of a stack are under way.
func isShuffling(p *sequence.Plan, l engine.Snapshot) bool {
	c := l.NextCue
	return c != nil && c.Kind == sequence.CueShuffle && !isSetAside(p, c) || l.LastCue.Kind == sequence.CueShuffle && l.Step >= 0 && p.Steps[l.Step].Stack
}

// isSetAside reports whether a cue is for the sheets of a film test that wait for the rest.
func isSetAside(p *sequence.Plan, c *sequence.Cue) bool {
	i := stepIndex(p, c.Step)
	return i > 0 && p.Steps[i-1].PullsSheets()
}

// cueName is a cue in a word or two.
func cueName(c *sequence.Cue) string {
	names := map[sequence.CueKind]string{sequence.CuePull: "take out", sequence.CueWetWarning: "wet time short",
		sequence.CueWetLimit: "wet limit", sequence.CueLightsOffer: "light possible", sequence.CueLightsOut: "lights out"}
	name, ok := names[c.Kind]
	if !ok {
		name = string(c.Kind)
	}
	if c.Sheet > 0 {
		name += " sheet " + fmt.Sprint(c.Sheet)
	}
	return name
}
