package page

// One line for one event: what plain mode writes for people.

import (
	"fmt"

	"example.org/wetside/sequence"
)

// EventLine says in words, and in a person's units, what happened, its time before it; "" for what people need
// not read.
func EventLine(p *sequence.Plan, e sequence.Event, h sequence.Units) string {
	what := eventWords(p, e, h)
	if what == "" {
		return ""
	}
	return fmt.Sprintf("%8s  %s", clock(e.At), what)
}

// HandsLine says what the hands do from now on, and until when; without that where Until is
// Never.
func HandsLine(h sequence.Hand) string {
	line := fmt.Sprintf("%8s  hands: %s", clock(h.At), h.Do)
	if h.Until != sequence.Never {
		line += " until " + clock(h.Until)
	}
	return line
}

func eventWords(p *sequence.Plan, e sequence.Event, h sequence.Units) string {
	switch e.Kind {
	case sequence.CueGiven:
		return cueWords(p, e)
	case sequence.SessionBegan:
		return fmt.Sprintf("session %s: %s", e.ID, p.Recipe.Title)
	case sequence.StepBegan:
		return "-- " + e.Step
	case sequence.Pulled:
		return p.Recipe.Load.SheetName(e.Sheet) + " is out of " + e.Step
	case sequence.ReadingTaken:
		line := fmt.Sprintf("the developer reads %s (%s)", h.Temperature(*e.Temperature), e.Source)
		if e.Uncertain {
			line += ", outside the recipe's table: development is uncertain from here"
		}
		return line
	case sequence.Overran:
		return "time is up in " + stepOrDry(e.Step) + ", holding"
	case sequence.Held:
		return withReason("held: time, dose and wet time go on", e.Text)
	case sequence.LateReported:
		return p.Recipe.Load.SheetName(e.Sheet) + " is still in " + stepOrDry(e.Step)
	case sequence.GapFound:
		return fmt.Sprintf("nothing ran from %s to %s", clock(*e.Since), clock(e.At))
	case sequence.Resumed:
		return withReason("taken up again", e.Text)
	case sequence.Noted:
		return "note: " + e.Text
	}
	return eventNames[e.Kind] + colonText(e.Text)
}

var eventNames = map[sequence.EventKind]string{
	sequence.HoldEnded:        "going on",
	sequence.WetWarned:        "WET TIME runs short",
	sequence.WetPassed:        "WET TIME is over the limit",
	sequence.SoundLost:        "no sound",
	sequence.SoundBack:        "sound is back",
	sequence.ClockJumped:      "clock",
	sequence.Undone:           "taken back",
	sequence.LightChanged:     "light",
	sequence.SleepReported:    "sleep",
	sequence.SuspendAnnounced: "the laptop goes to sleep",
	sequence.HandedOver:       "handed over to another wetside",
	sequence.SessionDone:      "done",
	sequence.SessionStopped:   "session ended",
	sequence.FollowerFailed:   "trouble",
}

func colonText(text string) string {
	if text == "" {
		return ""
	}
	return ": " + text
}

func withReason(what, why string) string { return what + colonText(why) }

func stepOrDry(step string) string {
	if step == "" {
		return "the dry"
	}
	return step
}

func cueWords(p *sequence.Plan, e sequence.Event) string {
	sheet := ""
	if e.Sheet > 0 {
		sheet = " " + p.Recipe.Load.SheetName(e.Sheet)
	}
	switch e.Cue {
	case sequence.CueTick, sequence.CueStand:
		return ""
	case sequence.CueAgitate:
		return fmt.Sprintf("agitate%s for %s", sheet, clock(e.For))
	case sequence.CueTransfer:
		return "move" + sheet + " on from " + e.Step
	case sequence.CuePull:
		return "take out" + sheet
	case sequence.CueReading:
		end := e.At + e.For
		return fmt.Sprintf("the bath is not as expected: the next move comes at %s instead of %s", clock(end), clock(end-e.Change))
	case sequence.CueOverdue:
		return "time is up, holding"
	case sequence.CueWetWarning, sequence.CueWetLimit, sequence.CueDone:
		return ""
	case sequence.CueLightsOffer:
		return "light is possible: the last sheet has had its least time"
	case sequence.CueLightsOut:
		return "lights out: the next step is dark"
	}
	return string(e.Cue) + sheet
}
