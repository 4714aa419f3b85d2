package say

// What happened, one line an event: plain mode as it happens, and afterwards the summary,
// the notebook's page and its file say the same words.

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/wetside/sequence"
)

// Event is what happened in words; "" for what people need not read: a tick, what another
// line says already, and what only the record needs.
func Event(p *sequence.Plan, e sequence.Event, h sequence.Units) string {
	switch e.Kind {
	case sequence.CueGiven:
		return cueEvent(p, e)
	case sequence.SessionBegan:
		return fmt.Sprintf("Session %s: %s", e.ID, p.Recipe.Title)
	case sequence.StepBegan:
		return "-- " + StepName(e.Step) + stepBegan(p, e.Step)
	case sequence.ReadingTaken:
		return readingEvent(e, h)
	case sequence.Overran:
		return "Time is up, film " + inStep(e.Step) + ", waiting"
	case sequence.GapFound:
		if e.Since == nil {
			return "Nothing ran until " + Elapsed(e.At) // an odd record, read from a file
		}
		return fmt.Sprintf("Nothing ran from %s to %s", Elapsed(*e.Since), Elapsed(e.At))
	case sequence.Pulled, sequence.SetAside, sequence.LateReported:
		return sheetEvent(p, e)
	case sequence.SoundLost:
		return strings.TrimSuffix(NoSound(e.Text), ".")
	}
	text := eventNames[e.Kind]
	if text != "" && e.Text != "" {
		text += ": " + e.Text
	}
	return text
}

// stepBegan is how long film develops in a bath that was used before, and why; "" for other steps.
func stepBegan(p *sequence.Plan, step string) string {
	if p == nil {
		return ""
	}
	i := p.StepIndex(step)
	if i >= len(p.Steps) || p.Steps[i].Reused == nil {
		return ""
	}
	return ", for " + Elapsed(p.Steps[i].Given) + ": " + Reused(&p.Steps[i])
}

// EventLine is Event with its time before it, for lists; "" where Event is.
func EventLine(p *sequence.Plan, e sequence.Event, h sequence.Units) string {
	what := Event(p, e, h)
	if what == "" {
		return ""
	}
	return fmt.Sprintf("%8s  %s", Elapsed(e.At), what)
}

// Afterwards reports whether an event is worth telling when the session is over: what the
// person did or wrote, and what did not go as planned.
func Afterwards(e sequence.Event) bool {
	switch e.Kind {
	case sequence.SetAside:
		return e.Source == sequence.ByHand
	case sequence.Noted, sequence.ReadingTaken, sequence.Held, sequence.HoldEnded, sequence.Undone, sequence.LateReported,
		sequence.GapFound, sequence.FollowerFailed, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped,
		sequence.SuspendAnnounced, sequence.WetWarned, sequence.WetPassed, sequence.SessionStopped:
		return true
	}
	return false
}

// Moves reports whether an event tells of film that was moved: loaded, from one bath to the next, out.
func Moves(e sequence.Event) bool {
	return e.Kind == sequence.Pulled || e.Kind == sequence.CueGiven && (e.Cue == sequence.CueTransfer || e.Cue == sequence.CueLoad)
}

var eventNames = map[sequence.EventKind]string{
	sequence.Held:             "Held: time, development and wet time go on",
	sequence.HoldEnded:        "Hold ended",
	sequence.Resumed:          "Resumed",
	sequence.WetWarned:        "WET LIMIT near",
	sequence.WetPassed:        "WET LIMIT passed",
	sequence.SoundBack:        "Sound is back",
	sequence.ClockJumped:      "Clock",
	sequence.Undone:           "Undone",
	sequence.Noted:            "Note",
	sequence.LightChanged:     "Light",
	sequence.SleepReported:    "Sleep",
	sequence.SuspendAnnounced: "The laptop goes to sleep",
	sequence.HandedOver:       "Handed over to another wetside",
	sequence.SessionDone:      "Done",
	sequence.SessionStopped:   "Session ended early",
	sequence.FollowerFailed:   "Fault",
}

// inStep says where film is: in a step, or before its first.
func inStep(step string) string {
	if step == "" {
		return "dry"
	}
	return "in " + StepName(step)
}

// MissedCue is a cue that was not given, with its time.
func MissedCue(p *sequence.Plan, c sequence.Cue) string {
	text := fmt.Sprintf("%s  %s, film %s", Elapsed(c.At), CueName(c.Kind), inStep(c.Step))
	if c.Sheet > 0 {
		text += ", " + p.Recipe.Load.SheetName(c.Sheet)
	}
	return text
}

func readingEvent(e sequence.Event, h sequence.Units) string {
	if e.Temperature == nil {
		return ""
	}
	line := "Developer reads " + Reading(*e.Temperature, h)
	if e.Source != "" {
		line += " (" + string(e.Source) + ")"
	}
	if e.Uncertain {
		line += ", outside the recipe's table: development is uncertain from here"
	}
	return line
}

// sheetEvent is what happened to one sheet.
func sheetEvent(p *sequence.Plan, e sequence.Event) string {
	sheet := Capital(p.Recipe.Load.SheetName(e.Sheet))
	switch e.Kind {
	case sequence.Pulled:
		return sheet + " is out of " + StepName(e.Step)
	case sequence.LateReported:
		return sheet + " is still " + inStep(e.Step)
	}
	return sheet + " is set aside in water"
}

// cueEvent is a cue that was given.
func cueEvent(p *sequence.Plan, e sequence.Event) string {
	sheet := ""
	if e.Sheet > 0 {
		sheet = " " + p.Recipe.Load.SheetName(e.Sheet)
	}
	switch e.Cue {
	case sequence.CueTick, sequence.CueStand, sequence.CueWetWarning, sequence.CueWetLimit, sequence.CueDone:
		return "" // in the line of the event that comes with it
	case sequence.CueAgitate:
		return "Agitate" + sheet + " for " + Span(e.For)
	case sequence.CueTransfer:
		return "Transfer" + sheet + " out of " + StepName(e.Step)
	case sequence.CueReading:
		end := e.At + e.For
		return fmt.Sprintf("The bath is not as expected: next transfer at %s instead of %s", Elapsed(end), Elapsed(end-e.Change))
	case sequence.CueLightsOffer:
		return "Safe to turn on the room light: the last sheet has had its least time"
	case sequence.CueLightsOut:
		return "Switch lights off: the next step is dark"
	}
	return Capital(CueName(e.Cue)) + sheet
}

// CueName is a cue in a word or two, for lists.
func CueName(c sequence.CueKind) string { return cmp.Or(cueNames[c], string(c)) }

var cueNames = map[sequence.CueKind]string{
	sequence.CueTransfer: "transfer", sequence.CuePull: "pull", sequence.CueShuffle: "shuffle", sequence.CueStand: "stand",
	sequence.CueReady: "be ready", sequence.CueOverdue: "time is up, waiting", sequence.CueWetWarning: "wet limit near", sequence.CueWetLimit: "wet limit passed",
	sequence.CueLightsOffer: "safe to turn on the room light", sequence.CueLightsOut: "switch lights off",
}
