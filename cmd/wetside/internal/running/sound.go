package running

// The way from the session's cues to a loudspeaker, or to a file.

import (
	"context"
	"os"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink"
)

// Sound is an ear and the sink that listens to it.
type Sound struct {
	Ear     *cue.Ear
	Sink    sink.Sink
	file    string // that it is written to; "" where it is heard
	off     bool   // as asked
	level   cue.Level
	stopped chan struct{}
}

// OpenSound opens a way out. A sound file that is there is left as it is: the next free name is
// taken, so that neither the second session of an evening nor one taken up writes over the first.
func OpenSound(p *app.Env, spec string, watch clock.Clock) (*Sound, error) {
	file := SoundFile(spec)
	if file != "" {
		if err := app.CheckFolder(file); err != nil {
			return nil, app.AsUsage(err)
		}
		file = app.FreeName(file)
		spec = wavPrefix + file
	}
	ear := cue.NewEar(watch)
	ear.SetUnits(p.Settings.Habits)
	out, err := sink.Open(spec, cue.Volume{Ear: ear, Percent: p.Settings.Volume})
	if err != nil {
		return nil, app.AsUsage(err)
	}
	return &Sound{Ear: ear, Sink: out, file: file, off: spec == "off", stopped: make(chan struct{})}, nil
}

// speak gives the session's ear its voice, and tells it what happens, from record
// number first on.
func (s *Sound) speak(level cue.Level, of *live.Session, first int) {
	s.level = level
	if !s.Speaks() {
		return
	}
	s.Ear.SetVoice(level, of.State)
	of.Follow("voice", first, func(ctx context.Context, c *live.Cursor) error {
		for {
			r, ok := c.Next(ctx)
			if !ok {
				return nil
			}
			s.Ear.HandleEvent(r.Event)
		}
	})
}

// Speaks reports whether there is a voice.
func (s *Sound) Speaks() bool { return s.level != cue.Off && s.level != "" }

// sinkCheckEvery is how often the sink is asked how it is.
const sinkCheckEvery = time.Second

// watchSink tells the session when sound is lost and when it is back.
func (s *Sound) watchSink(to *live.Session) {
	go func() {
		sounding := !s.off
		for {
			if now := s.Sink.Sounding(); now != sounding {
				kind := sequence.SoundBack
				if !now {
					kind = sequence.SoundLost
				}
				to.Do(sequence.Report{Kind: kind, Text: s.Sink.State()})
				sounding = now
			}
			select {
			case <-time.After(sinkCheckEvery):
			case <-s.stopped:
				return
			}
		}
	}()
}

// finishLimit bounds how long the end of a session waits to be heard.
const finishLimit = 5 * time.Second

// finish lets what has been scheduled be heard.
func (s *Sound) finish() {
	if s.Sink.Sounding() {
		time.Sleep(min(s.Ear.Remaining(), finishLimit))
	}
}

func (s *Sound) Close() {
	close(s.stopped)
	s.Sink.Close()
}

// Discard is Close for a sound that was only tried: it leaves no file.
func (s *Sound) Discard() {
	s.Close()
	if s.file != "" {
		os.Remove(s.file)
	}
}

// AfterCue is the quiet after each cue.
const AfterCue = 700 * time.Millisecond

// SinkSettleTime is how long a sink is given to tell how it is.
const SinkSettleTime = 250 * time.Millisecond
