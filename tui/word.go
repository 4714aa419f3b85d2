package tui

// What to do now: one large word, and the same in plain letters.

import (
	"fmt"
	"time"

	"example.org/wetside/sequence"
)

// shortly is how long a word stands for an act that is over in a moment.
const shortly = 3 * time.Second

// nowWord is the word for the moment and what it means.
func nowWord(p *sequence.Plan, l sequence.Look) (word, plain string) {
	switch {
	case l.Over == sequence.SessionStopped:
		return "STOPPED", "the session was stopped"
	case l.Over != "":
		return "DONE", "the last film is out"
	case l.Held && l.Overdue > 0:
		return "HELD", "time is up, held; " + sequence.Clock(l.Overdue) + " overdue"
	case l.Held:
		return "HELD", "moving on is held; time goes on"
	case l.Waiting:
		return "MOVE", "time is up: the big key when it is done; " + sequence.Clock(l.Overdue) + " overdue"
	case l.Now < 0:
		return "READY", "load at 0:00"
	case l.Cue == nil:
		return "REST", "nothing to do"
	}
	return cueWord(p, l)
}

// cueWord is the word for the last cue, for as long as it holds.
func cueWord(p *sequence.Plan, l sequence.Look) (word, plain string) {
	c, since := l.Cue, l.Now-l.Cue.At
	sheet := ""
	if c.Sheet > 0 {
		sheet = fmt.Sprintf(" sheet %d", c.Sheet)
	}
	switch {
	case c.Kind == sequence.CueAgitate && since < c.For:
		return "AGITATE", fmt.Sprintf("agitate%s for another %s", sheet, sequence.Clock(c.For-since))
	case c.Kind == sequence.CueDrain && since < shortly+p.Steps[max(0, l.Step)].Drain:
		return "DRAIN", "lift" + sheet + " and let drip"
	case since >= shortly && l.Left > 0 && l.Left <= 20*time.Second:
		return "READY", "be ready: " + exitPlainly(p, l)
	case c.Kind == sequence.CueReady:
		return "READY", "be ready: " + exitPlainly(p, l)
	case since < shortly:
		return momentary(c, sheet)
	case turning(p, l):
		return "TURN", "turn the stack, bottom to top, at each tone"
	}
	return "REST", "at rest"
}

func exitPlainly(p *sequence.Plan, l sequence.Look) string {
	switch n := l.Next; {
	case n.Take:
		return fmt.Sprintf("sheet %d out of the developer in %s", n.Sheet, sequence.Clock(l.Left))
	case n.Step < len(p.Steps):
		return "into " + p.Steps[n.Step].Name + " in " + sequence.Clock(l.Left)
	}
	return "the last lift in " + sequence.Clock(l.Left)
}

// momentary are the cues that are over at once.
func momentary(c *sequence.Cue, sheet string) (word, plain string) {
	switch c.Kind {
	case sequence.CueMove:
		return "MOVE", "move" + sheet + " on from " + c.Step + ", now"
	case sequence.CueLoad:
		return "LOAD", "load" + sheet + ", now"
	case sequence.CueTakeOut:
		return "TAKE OUT", "take out" + sheet + ", now"
	case sequence.CueTurn:
		return "TURN", "turn: the bottom sheet to the top"
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
	}
	return "REST", "at rest"
}

// turning reports whether turns of a stack are under way.
func turning(p *sequence.Plan, l sequence.Look) bool {
	c := l.Coming
	return c != nil && c.Kind == sequence.CueTurn || l.Cue.Kind == sequence.CueTurn && l.Step >= 0 && p.Steps[l.Step].Stack
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
