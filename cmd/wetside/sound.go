package main

// The way from the session's cues to a loudspeaker, or to a file.

import (
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink"
)

// sound is an ear and the sink that listens to it.
type sound struct {
	ear    *cue.Ear
	sink   sink.Sink
	silent bool // as asked
	done   chan struct{}
}

func (p *program) openSound(spec string, watch clock.Clock) (*sound, error) {
	ear := cue.NewEar(watch)
	out, err := sink.Open(spec, cue.Volume{Ear: ear, PerCent: p.settings.Volume})
	if err != nil {
		return nil, usageError{err}
	}
	return &sound{ear: ear, sink: out, silent: spec == "off", done: make(chan struct{})}, nil
}

// watchEvery is how often the sink is asked how it is.
const watchEvery = time.Second

// watch tells the session when sound is lost and when it is back.
func (s *sound) watch(to *live.Session) {
	go func() {
		sounding := !s.silent
		tick := time.NewTicker(watchEvery)
		defer tick.Stop()
		for {
			if now := s.sink.Sounding(); now != sounding {
				kind := sequence.SoundBack
				if !now {
					kind = sequence.SoundLost
				}
				to.Do(sequence.Tell{Kind: kind, Text: s.sink.State()})
				sounding = now
			}
			select {
			case <-tick.C:
			case <-s.done:
				return
			}
		}
	}()
}

// lastSound bounds how long the end of a session waits to be heard.
const lastSound = 5 * time.Second

// finish lets what has been scheduled be heard.
func (s *sound) finish() {
	if s.sink.Sounding() {
		time.Sleep(min(s.ear.Left(), lastSound))
	}
}

func (s *sound) close() {
	close(s.done)
	s.sink.Close()
}
