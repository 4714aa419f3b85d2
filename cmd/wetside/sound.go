package main

// The way from the session's cues to a loudspeaker, or to a file.

import (
	"context"
	"slices"
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
	level  cue.Level
	done   chan struct{}
}

// aloud is what a session is to be heard by.
type aloud struct {
	sound string    // which sink
	voice cue.Level // how much is said
}

// voices are the words of --voice.
var voices = []cue.Level{cue.Off, cue.Sparse, cue.Full}

// check finds what is wrong with the words.
func (a aloud) check() error {
	if !slices.Contains(voices, a.voice) {
		return usage("--voice: %q; expected off, sparse or full", a.voice)
	}
	return nil
}

// heardBy refuses words about a voice where the same line turns the sound off. The keeper
// names both whenever it has a session taken up.
func (a aloud) heardBy(typed func(string) bool) error {
	if typed("voice") && typed("sound") && a.sound == "off" && a.voice != cue.Off && !isKept() {
		return usage("--voice %s and --sound off do not go together: nothing would be heard", a.voice)
	}
	return nil
}

func (p *program) openSound(spec string, watch clock.Clock) (*sound, error) {
	ear := cue.NewEar(watch)
	ear.On(p.settings.Habits)
	out, err := sink.Open(spec, cue.Volume{Ear: ear, PerCent: p.settings.Volume})
	if err != nil {
		return nil, usageError{err}
	}
	return &sound{ear: ear, sink: out, silent: spec == "off", done: make(chan struct{})}, nil
}

// speak gives the session's ear its voice, and tells it what happens, from record
// number first on.
func (s *sound) speak(level cue.Level, of *live.Session, first int) {
	s.level = level
	if !s.speaks() {
		return
	}
	s.ear.Speak(level, of.State)
	of.Follow("voice", first, func(ctx context.Context, c *live.Cursor) error {
		for {
			r, ok := c.Next(ctx)
			if !ok {
				return nil
			}
			s.ear.Told(r.Event)
		}
	})
}

// speaks reports whether there is a voice.
func (s *sound) speaks() bool { return s.level != cue.Off && s.level != "" }

// watchEvery is how often the sink is asked how it is.
const watchEvery = time.Second

// watch tells the session when sound is lost and when it is back.
func (s *sound) watch(to *live.Session) {
	go func() {
		sounding := !s.silent
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
			case <-time.After(watchEvery):
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
