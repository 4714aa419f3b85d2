package main

// What is heard in the dark before a session: how it begins, and that it could not.

import (
	"sync"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui"
	"example.org/wetside/tui/cue"
)

// idleSound is a way to a loudspeaker while no session has one.
type idleSound struct {
	p  *program
	by aloud

	mu     sync.Mutex
	wanted bool
	out    *sound // nil while closed
}

// want opens it in the background, so that what is said then is heard at once.
func (i *idleSound) want() {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.wanted = true
	go i.open()
}

// open reports whether there is a loudspeaker; mu is not held.
func (i *idleSound) open() bool {
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.out == nil && i.wanted {
		if out, err := i.p.openSound(i.by.sound, clock.New(i.p.source, 0, 1)); err == nil {
			i.out = out
		}
	}
	return i.out != nil
}

// close lets go of the loudspeaker: a session is about to have it.
func (i *idleSound) close() {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.wanted = false
	if i.out != nil {
		i.out.close()
		i.out = nil
	}
}

// sound lets an ear be told what is to be heard, without making anybody wait.
func (i *idleSound) sound(tell func(*cue.Ear)) {
	i.want()
	go func() {
		if !i.open() {
			return
		}
		i.mu.Lock()
		defer i.mu.Unlock()
		if i.out != nil { // not closed since
			tell(i.out.ear)
		}
	}()
}

// say says something; where there is no voice a sound stands for it.
func (i *idleSound) say(s tui.Saying) {
	i.sound(func(ear *cue.Ear) {
		switch {
		case i.by.voice != cue.Off:
			ear.Utter(sayings[s])
		case s == tui.SaysNotBegun || s == tui.SaysElsewhere:
			ear.Play(sequence.CueOverdue)
		default:
			ear.Play(sequence.CueTick)
		}
	})
}

// sayings are the words for what the screens ask a voice to say.
var sayings = map[tui.Saying]cue.Phrase{
	tui.SaysLoading:   cue.Loading(),
	tui.SaysNotBegun:  cue.NotBegun(),
	tui.SaysElsewhere: cue.HeldElsewhere(),
	tui.SaysNo:        cue.Refused(),
	tui.OffersHold:    cue.ChoiceHold.Offer(),
	tui.OffersGo:      cue.ChoiceGo.Offer(),
	tui.OffersUndo:    cue.ChoiceUndo.Offer(),
	tui.OffersLate:    cue.ChoiceLate.Offer(),
	tui.OffersFilm:    cue.ChoiceFilm.Offer(),
	tui.OffersLost:    cue.ChoiceLost.Offer(),
	tui.OffersHelp:    cue.ChoiceHelp.Offer(),
	tui.OffersStop:    cue.ChoiceStop.Offer(),
}

// signalled are the tones for what they ask for while a session has no voice.
var signalled = map[tui.Saying]sequence.CueKind{
	tui.SaysNo:     cue.SignalNo,
	tui.SaysDone:   cue.SignalDone,
	tui.OffersHold: cue.SignalHold,
	tui.OffersGo:   cue.SignalGo,
	tui.OffersUndo: cue.SignalUndo,
	tui.OffersLate: cue.SignalLate,
	tui.OffersFilm: cue.SignalLate,
	tui.OffersLost: cue.SignalLost,
	tui.OffersStop: cue.SignalStop,
}

// ofSheets are the choices that mean one sheet of several.
var ofSheets = map[tui.Saying]cue.Choice{tui.OffersLate: cue.ChoiceLate, tui.OffersLost: cue.ChoiceLost}
