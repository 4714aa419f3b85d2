package running

// What is heard in the dark before a session: how it begins, and that it could not.

import (
	"sync"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/screen"
)

// IdleSound is a way to a loudspeaker while no session has one.
type IdleSound struct {
	Env     *app.Env
	Options SoundOptions

	mu     sync.Mutex
	wanted bool
	sound  *Sound // nil while closed
}

// Want opens it in the background, so that what is said then is heard at once.
func (i *IdleSound) Want() {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.wanted = true
	go i.open()
}

// open reports whether there is a loudspeaker; mu is not held. A sound file is left to the session.
func (i *IdleSound) open() bool {
	if SoundFile(i.Options.Sink) != "" {
		return false
	}
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.sound == nil && i.wanted {
		if out, err := OpenSound(i.Env, i.Options.Sink, clock.New(i.Env.Clock, 0, 1)); err == nil {
			i.sound = out
		}
	}
	return i.sound != nil
}

// Close lets go of the loudspeaker: a session is about to have it.
func (i *IdleSound) Close() {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.wanted = false
	if i.sound != nil {
		i.sound.Close()
		i.sound = nil
	}
}

// Play lets an ear be told what is to be heard, without making anybody wait.
func (i *IdleSound) Play(tell func(*cue.Ear)) {
	i.Want()
	go func() {
		if !i.open() {
			return
		}
		i.mu.Lock()
		defer i.mu.Unlock()
		if i.sound != nil { // not closed since
			tell(i.sound.Ear)
		}
	}()
}

// Say says something; where there is no voice a sound stands for it.
func (i *IdleSound) Say(s screen.Utterance) {
	i.Play(func(ear *cue.Ear) {
		switch {
		case i.Options.Voice != cue.Off:
			ear.SayNow(Utterances[s].Words)
		case s == screen.SaysNotBegun || s == screen.SaysElsewhere:
			ear.Play(sequence.CueOverdue)
		default:
			ear.Play(sequence.CueTick)
		}
	})
}
