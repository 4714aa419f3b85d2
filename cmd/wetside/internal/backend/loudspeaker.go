package backend

// Sound before and beside a session: the trial, the sounds' screen, the stopwatch.

import (
	"sync"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// Loudspeaker is heard where there is no session.
type Loudspeaker struct {
	Env     *app.Env
	Options running.SoundOptions
	idle    *running.IdleSound

	mu        sync.Mutex
	state     string // whether there is sound
	stopwatch *running.StopwatchSound
}

func NewLoudspeaker(p *app.Env, by running.SoundOptions) *Loudspeaker {
	return &Loudspeaker{Env: p, Options: by, idle: &running.IdleSound{Env: p, Options: by}, state: "sound: looking for it"}
}

// tryAwhile finds out whether there is sound, before film is opened.
// A sound file is not tried: a trial would have its name just when the session wants it.
func (l *Loudspeaker) tryAwhile() {
	if file := running.SoundFile(l.Options.Sink); file != "" {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.state = "sound: into " + file
		return
	}
	out, err := running.OpenSound(l.Env, l.Options.Sink, clock.New(l.Env.Clock, 0, 1))
	state := ""
	if err != nil {
		state = "NO SOUND: " + err.Error()
	} else {
		time.Sleep(running.SinkSettleTime)
		state = out.Sink.State()
		out.Discard()
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.state = state
}

func (l *Loudspeaker) Sound() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.state
}

// Sounds are the sounds that the screens teach.
func (l *Loudspeaker) Sounds() []screen.Sound {
	var list []screen.Sound
	for _, kind := range cue.Kinds() {
		list = append(list, screen.Sound{Name: string(kind), Says: cue.Describe(kind)})
	}
	return list
}

// Play is heard where there is no session; no name at all lets go of the loudspeaker.
func (l *Loudspeaker) Play(name string) {
	if name == "" {
		go l.idle.Close()
		return
	}
	l.idle.Play(func(ear *cue.Ear) { ear.Play(sequence.CueKind(name)) })
}

// Say is heard where there is no session.
func (l *Loudspeaker) Say(what screen.Utterance) { l.idle.Say(what) }

// SoundStopwatch makes a stopwatch heard, or no more.
func (l *Loudspeaker) SoundStopwatch(on bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.stopwatch.End()
	if on {
		l.stopwatch = running.StartStopwatchSound(l.Env, l.Options)
	}
}

// CloseIdleSound lets go of every loudspeaker that is not a session's.
func (l *Loudspeaker) CloseIdleSound() {
	l.idle.Close()
	l.mu.Lock()
	over := l.stopwatch.End()
	l.mu.Unlock()
	<-over
}
