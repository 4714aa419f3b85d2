package backend

// A running session as the screens may see and ask it.

import (
	"context"
	"time"

	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// SessionView is a session as the screens see it.
type SessionView struct{ *running.RunningSession }

func (s SessionView) Plan() *sequence.Plan { return s.State().Plan() }

// keepLimit bounds how long a screen waits for the disk before it says that something is kept.
const keepLimit = 250 * time.Millisecond

func (s SessionView) DoAndKeep(c sequence.Command) bool {
	if err := s.Ask(c); err != nil {
		return false
	}
	ctx, cancel := context.WithTimeout(context.Background(), keepLimit)
	defer cancel()
	return s.WaitUntilSaved(ctx)
}

func (s SessionView) Advise() (engine.Advice, bool) {
	return s.State().Advise(s.Session.Snapshot().Now)
}

func (s SessionView) SpeakState() { s.Audio.Ear.SpeakState() }

// Say is heard in words, or where there is no voice by a signal.
func (s SessionView) Say(what screen.Utterance) {
	switch {
	case !s.Audio.Speaks():
		s.Audio.Ear.Signal(running.Utterances[what].Tone)
	case what == screen.SaysAdvice:
		s.Audio.Ear.Advise()
	default:
		s.Audio.Ear.Say(running.Utterances[what].Words)
	}
}

// OfferSheet is heard in words, or where there is no voice by notes to be counted.
func (s SessionView) OfferSheet(what screen.Utterance, sheet int) {
	if !s.Audio.Speaks() {
		s.Audio.Ear.Signal(cue.SignalSheet(sheet))
		return
	}
	s.Audio.Ear.Say(running.SheetChoices[what].Sheet(sheet))
}

func (s SessionView) LateSheets() []engine.LateSheet {
	return s.State().LateSheets(s.Session.Snapshot().Now)
}

func (s SessionView) SheetsToSetAside() []int {
	return s.State().SheetsToSetAside(s.Session.Snapshot().Now)
}

func (s SessionView) Speaks() bool { return s.Audio.Speaks() }

func (s SessionView) ID() string { return s.SessionID }

func (s SessionView) Sound() string { return s.Audio.Sink.State() }

func (s SessionView) Sleep() string { return s.SleepState.Load().(string) }

func (s SessionView) Record() string { return s.JournalPath() }

func (s SessionView) RehearsalSpeed() float64 { return s.Factor }

func (s SessionView) SkipsQuiet() bool { return s.MovesOnly }

func (s SessionView) Lit() bool { return s.MayLight() }

func (s SessionView) Refuse(c sequence.Command) sequence.Refusal {
	return s.State().Refuse(c, s.Session.Snapshot().Now)
}

func (s SessionView) Events() []sequence.Event {
	var list []sequence.Event
	for _, r := range s.Log().Records() {
		list = append(list, r.Event)
	}
	return list
}
