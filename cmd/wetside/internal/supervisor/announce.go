package supervisor

// What is heard in the dark when the screens are gone: that nobody carries the session
// out any more, and how light comes. The supervisor says it, again and again, for somebody
// who would press twice to move on would bring the light. Where another program carries
// it out it is said once: the tones of that one are not to be talked across.

import (
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
)

// AnnounceEvery is how often it is said.
const AnnounceEvery = 20 * time.Second

// AnnounceLost begins to say it, as the child's state has it, until stop.
func AnnounceLost(p *app.Env, by running.SoundOptions, told ChildState) (stop func()) {
	if !by.Audible() {
		return func() {}
	}
	idle, done := &running.IdleSound{Env: p, Options: by}, make(chan struct{})
	go func() {
		tick := time.NewTicker(AnnounceEvery)
		defer tick.Stop()
		for {
			idle.Play(func(ear *cue.Ear) {
				if by.Voice == cue.Off {
					ear.Play(sequence.CueOverdue)
					return
				}
				if told.handedOver {
					ear.SayNow(cue.GoneElsewhere())
					return
				}
				ear.SayNow(cue.SessionLost(told.session != ""))
			})
			if told.handedOver {
				tick.Stop()
			}
			select {
			case <-tick.C:
			case <-done:
				idle.Close()
				return
			}
		}
	}()
	return func() { close(done) }
}
