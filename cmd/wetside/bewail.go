package main

// What is heard in the dark when the screens are gone: that nobody carries the session
// out any more, and how light comes. The keeper says it, again and again, for somebody
// who would press twice to move on would bring the light. Where another program carries
// it out it is said once: the tones of that one are not to be talked across.

import (
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
)

// bewailEvery is how often it is said.
const bewailEvery = 20 * time.Second

// audible reports whether there is anything by which it could be heard. A sound file is
// left alone: it holds what the session was heard by.
func (a aloud) audible() bool { return a.sound != "off" && !strings.HasPrefix(a.sound, "wav:") }

// bewail begins to say it, as the child's account has it, until hush.
func (p *program) bewail(by aloud, told account) (hush func()) {
	if !by.audible() {
		return func() {}
	}
	idle, done := &idleSound{p: p, by: by}, make(chan struct{})
	go func() {
		tick := time.NewTicker(bewailEvery)
		defer tick.Stop()
		for {
			idle.sound(func(ear *cue.Ear) {
				if by.voice == cue.Off {
					ear.Play(sequence.CueOverdue)
					return
				}
				if told.handed {
					ear.Utter(cue.GoneElsewhere())
					return
				}
				ear.Utter(cue.CutOff(told.session != ""))
			})
			if told.handed {
				tick.Stop()
			}
			select {
			case <-tick.C:
			case <-done:
				idle.close()
				return
			}
		}
	}()
	return func() { close(done) }
}
