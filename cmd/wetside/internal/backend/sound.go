package backend

// Sound before and beside a session: the trial, the sounds' screen, the stopwatch.

import (
	"time"

	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// tryAwhileSound finds out whether there is sound, before film is opened.
func (h *Backend) tryAwhileSound() {
	out, err := running.OpenSound(h.Env, h.Options.Sink, clock.New(h.Env.Clock, 0, 1))
	state := ""
	if err != nil {
		state = "NO SOUND: " + err.Error()
	} else {
		time.Sleep(running.SinkSettleTime)
		state = out.Sink.State()
		out.Close()
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.soundState = state
}

func (h *Backend) Sound() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.soundState
}

// Sounds are the sounds that the screens teach.
func (h *Backend) Sounds() []screen.Sound {
	var list []screen.Sound
	for _, kind := range cue.Kinds() {
		list = append(list, screen.Sound{Name: string(kind), Says: cue.Describe(kind)})
	}
	return list
}

// Play is heard where there is no session; no name at all lets go of the loudspeaker.
func (h *Backend) Play(name string) {
	if name == "" {
		go h.Idle.Close()
		return
	}
	h.Idle.Play(func(ear *cue.Ear) { ear.Play(sequence.CueKind(name)) })
}

// Say is heard where there is no session.
func (h *Backend) Say(what screen.Utterance) { h.Idle.Say(what) }

// SoundStopwatch makes a stopwatch heard, or no more.
func (h *Backend) SoundStopwatch(on bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.stopwatch.End()
	if on {
		h.stopwatch = running.StartStopwatchSound(h.Env, h.Options)
	}
}

// CloseIdleSound lets go of every loudspeaker that is not a session's.
func (h *Backend) CloseIdleSound() {
	h.Idle.Close()
	h.mu.Lock()
	over := h.stopwatch.End()
	h.mu.Unlock()
	<-over
}
