package notebook

// The account of a session: its events taken in one by one, each applied as the
// session itself applied it.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// replay gathers, while replaying, what the last state does not tell.
type replay struct {
	state                       engine.State
	act                         int // number of the person's last act
	held                        sequence.Elapsed
	isHeld                      bool
	readings, notes, exceptions []sequence.Event
	holds, gaps                 []Span
	missed                      []sequence.Cue
	shuffles                    map[string]int // by step
}

// add takes in one event.
func (a *replay) add(e sequence.Event) {
	switch e.Kind {
	case sequence.GapFound, sequence.Resumed:
		a.addMissed(e)
	case sequence.CueGiven:
		a.dropMissed(e)
		if e.Cue == sequence.CueShuffle {
			a.shuffles[e.Step]++
		}
	case sequence.Undone:
		a.undo()
	case sequence.ReadingTaken:
		if e.Temperature != nil {
			a.readings = append(a.readings, e)
		}
	case sequence.Noted:
		a.notes = append(a.notes, e)
	}
	a.keepException(e)
	if e.Act != 0 {
		a.act = e.Act
	}
	a.state = engine.Apply(a.state, e)
	a.hold(e)
}

// keepException keeps what did not go by itself.
func (a *replay) keepException(e sequence.Event) {
	switch e.Kind {
	case sequence.GapFound:
		if e.Since == nil {
			return
		}
		a.gaps = append(a.gaps, Span{*e.Since, e.At})
	case sequence.SetAside:
		if e.Source != sequence.ByHand {
			return
		}
	case sequence.Overran, sequence.Held, sequence.HoldEnded, sequence.LateReported, sequence.Undone, sequence.Resumed,
		sequence.WetWarned, sequence.WetPassed, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped,
		sequence.SuspendAnnounced, sequence.HandedOver, sequence.FollowerFailed, sequence.SessionStopped:
	default:
		return
	}
	a.exceptions = append(a.exceptions, e)
}

// addMissed lists the cues that nobody gave while the program was away: those that
// lay ahead of the state as it was then. Ticks say nothing that is missed.
func (a *replay) addMissed(e sequence.Event) {
	if e.Since == nil || *e.Since >= e.At {
		return
	}
	for _, c := range a.state.Ahead(*e.Since+1, e.At) {
		if c.Kind != sequence.CueTick && c.Kind != sequence.CueOverdue {
			a.missed = append(a.missed, c)
		}
	}
}

// dropMissed strikes out a missed cue whose act was done after all: moves are held
// over a gap until the person has made them.
func (a *replay) dropMissed(e sequence.Event) {
	switch e.Cue {
	case sequence.CueLoad, sequence.CueTransfer, sequence.CuePull, sequence.CueDone,
		sequence.CueLightsOut, sequence.CueLightsOffer, sequence.CueWetWarning, sequence.CueWetLimit:
		a.missed = slices.DeleteFunc(a.missed, func(c sequence.Cue) bool {
			return c.Kind == e.Cue && c.Step == e.Step && c.Sheet == e.Sheet
		})
	}
}

// undo strikes out a reading that was the person's last act.
func (a *replay) undo() {
	a.readings = slices.DeleteFunc(a.readings, func(e sequence.Event) bool { return e.Act != 0 && e.Act == a.act })
	a.act = 0
}

// hold notes when moving on was held, and when it went on.
func (a *replay) hold(e sequence.Event) {
	switch e.Kind {
	case sequence.Held, sequence.HoldEnded, sequence.Undone:
	default:
		return
	}
	held := a.state.Snapshot(e.At).Held
	switch {
	case held && !a.isHeld:
		a.held = e.At
	case !held && a.isHeld:
		a.holds = append(a.holds, Span{a.held, e.At})
	}
	a.isHeld = held
}
