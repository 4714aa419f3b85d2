package tui

// What to do now: one large word, and the same in plain letters.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// shortly is how long a word stands for an act that is over in a moment.
const shortly = 3 * time.Second

// nowWord is the word for the moment and what it means.
func nowWord(p *sequence.Plan, l sequence.Look) (word, plain string) {
	switch {
	case l.Over == sequence.SessionStopped:
		return "ENDED", "the session was ended early"
	case l.Over != "":
		return "DONE", "the last film is out"
	case l.Held && l.Overdue > 0:
		return "HELD", "time is up, held; " + sequence.Clock(l.Overdue.Truncate(time.Second)) + " overdue"
	case l.Held:
		return "HELD", "moving on is held; time goes on"
	case l.Waiting:
		return numbered(act(p, l.Step), l.Next.Sheet), "time is up: big key when done"
	case l.Now < 0:
		return numbered("READY", l.Next.Sheet), exitPlainly(p, l)
	case l.Cue == nil:
		return "REST", "nothing to do"
	}
	return cueWord(p, l)
}

// numbered is a word with the sheet that it is about; 0 is for all.
func numbered(word string, sheet int) string {
	if sheet == 0 {
		return word
	}
	return fmt.Sprintf("%s %d", word, sheet)
}

// act is the word for leaving a step: film is moved, a closed vessel's bath is poured.
func act(p *sequence.Plan, step int) string {
	if step >= 0 && p.Steps[step].Vessel.Closed() {
		return "POUR"
	}
	return "MOVE"
}

// cueWord is the word for the last cue, for as long as it holds.
func cueWord(p *sequence.Plan, l sequence.Look) (word, plain string) {
	c, since := l.Cue, l.Now-l.Cue.At
	ready := l.Left > 0 && l.Left <= readyFor
	switch {
	case c.Kind == sequence.CueAgitate && since < c.For:
		return numbered("AGITATE", c.Sheet), fmt.Sprintf("agitate%s for another %s", ofSheet(p, c), sequence.Clock(whole(c.For-since)))
	case c.Kind == sequence.CueDrain && since < max(shortly, p.Steps[named(p, c.Step)].Drain):
		return numbered("DRAIN", c.Sheet), drainPlainly(p, l)
	case since < shortly && c.Kind != sequence.CueReady && c.Kind != sequence.CueRest && c.Kind != sequence.CueTick:
		return momentary(p, c)
	case ready && l.Next.Step < len(p.Steps):
		return numbered("READY", l.Next.Sheet), "be ready: " + exitPlainly(p, l)
	case ready:
		return "READY", exitPlainly(p, l)
	case turning(p, l):
		return "TURN", "turn at each tone, bottom to top"
	}
	return "REST", "at rest"
}

// readyFor is how long before a change of bath it is announced.
const readyFor = 20 * time.Second

func ofSheet(p *sequence.Plan, c *sequence.Cue) string {
	if c.Sheet == 0 {
		return ""
	}
	return " " + p.Recipe.Load.Sheet(c.Sheet)
}

func drainPlainly(p *sequence.Plan, l sequence.Look) string {
	if p.Steps[named(p, l.Cue.Step)].Vessel.Closed() {
		return "pour out"
	}
	return "lift" + ofSheet(p, l.Cue) + " and let drip"
}

// exitPlainly is the coming change of bath in words.
func exitPlainly(p *sequence.Plan, l sequence.Look) string {
	n, left := l.Next, sequence.Clock(whole(l.Left))
	what := ""
	if n.Sheet > 0 {
		what = p.Recipe.Load.Sheet(n.Sheet) + " "
	}
	switch {
	case n.Take:
		return what + "out of the developer in " + left
	case n.Step < len(p.Steps):
		return what + "into " + p.Steps[n.Step].Name + " in " + left
	}
	return what + "last lift in " + left
}

// whole is a time left in whole seconds; a second is shown until it is over.
func whole(left sequence.Elapsed) sequence.Elapsed {
	if left > 0 {
		left += time.Second - 1
	}
	return left.Truncate(time.Second)
}

// momentary are the cues that are over at once.
func momentary(p *sequence.Plan, c *sequence.Cue) (word, plain string) {
	switch c.Kind {
	case sequence.CueMove:
		return moving(p, c)
	case sequence.CueLoad:
		return numbered("LOAD", c.Sheet), "load" + ofSheet(p, c) + ", now"
	case sequence.CueTakeOut:
		return numbered("TAKE OUT", c.Sheet), "take out" + ofSheet(p, c) + ", now"
	case sequence.CueTurn:
		if inWater(p, c) {
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

// named is the step of that name; the first where there is none.
func named(p *sequence.Plan, name string) int {
	return max(0, slices.IndexFunc(p.Steps, func(st sequence.PlanStep) bool { return st.Name == name }))
}

// moving is a move out of the step that the cue names.
func moving(p *sequence.Plan, c *sequence.Cue) (word, plain string) {
	i := named(p, c.Step)
	switch {
	case c.Sheet > 0 && i > 0 && p.Steps[i-1].TakesOut():
		return numbered("ASIDE", c.Sheet), "set " + p.Recipe.Load.Sheet(c.Sheet) + " aside in plain water, now"
	case i+1 == len(p.Steps):
		return numbered("LIFT", c.Sheet), "lift" + ofSheet(p, c) + " out, now"
	case p.Steps[i].Vessel.Closed():
		return "POUR", "pour in " + p.Steps[i+1].Name + ", now"
	}
	return numbered("MOVE", c.Sheet), "move" + ofSheet(p, c) + " into " + p.Steps[i+1].Name + ", now"
}

// turning reports whether turns of a stack are under way.
func turning(p *sequence.Plan, l sequence.Look) bool {
	c := l.Coming
	return c != nil && c.Kind == sequence.CueTurn && !inWater(p, c) || l.Cue.Kind == sequence.CueTurn && l.Step >= 0 && p.Steps[l.Step].Stack
}

// inWater reports whether a cue is for the sheets of a film test that wait for the rest.
func inWater(p *sequence.Plan, c *sequence.Cue) bool {
	i := named(p, c.Step)
	return i > 0 && p.Steps[i-1].TakesOut()
}

// cueName is a cue in a word or two.
func cueName(c *sequence.Cue) string {
	names := map[sequence.CueKind]string{sequence.CueTakeOut: "take out", sequence.CueWetWarning: "wet time short",
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
