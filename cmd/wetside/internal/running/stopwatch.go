package running

// What is heard of the clearing test's stopwatch: what to do, a tick each quarter of
// a minute, and the minutes.

import (
	"sync"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

// OpenStopwatchSound makes a stopwatch heard, from now on: what to do, the ticks; the minutes
// are for whoever looks at it.
func OpenStopwatchSound(p *app.Env, by SoundOptions, watch clock.Clock) (*Sound, error) {
	out, err := OpenSound(p, by.Sink, watch)
	if err != nil {
		return nil, err
	}
	out.level = by.Voice
	out.Ear.Schedule(stopwatchTicks(out.Speaks()))
	out.SayText(cue.PressWhenClear())
	return out, nil
}

// SayText says something where there is a voice.
func (s *Sound) SayText(words cue.Phrase) {
	if s.Speaks() {
		s.Ear.SayNow(words)
	}
}

// StopwatchSound is the stopwatch of the screens, as far as it is heard; nil for none.
type StopwatchSound struct {
	once     sync.Once
	stop     chan struct{} // closed when it is to end
	released chan struct{} // closed when its loudspeaker is free
}

// StartStopwatchSound makes a stopwatch heard that began just now. Nobody waits for the
// loudspeaker; without one it is silent.
func StartStopwatchSound(p *app.Env, by SoundOptions) *StopwatchSound {
	w := &StopwatchSound{stop: make(chan struct{}), released: make(chan struct{})}
	watch := clock.New(p.Clock, 0, 1)
	go func() {
		defer close(w.released)
		out, err := OpenStopwatchSound(p, by, watch)
		if err != nil {
			return
		}
		defer out.Close()
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for minutes := time.Duration(0); ; {
			select {
			case <-w.stop:
				return
			case <-tick.C:
			}
			if now := watch.Mark().Elapsed.Truncate(time.Minute); now > minutes {
				minutes = now
				out.SayText(cue.DurationPhrase(minutes))
			}
		}
	}()
	return w
}

// End ends it; what it returns is closed when its loudspeaker is free.
func (w *StopwatchSound) End() <-chan struct{} {
	if w == nil {
		over := make(chan struct{})
		close(over)
		return over
	}
	w.once.Do(func() { close(w.stop) })
	return w.released
}

// stopwatchTicks is what is heard of ten minutes: in the place of a minute that is said there
// is no tick.
func stopwatchTicks(said bool) []sequence.Cue {
	const quarter, apart = 15 * time.Second, 400 * time.Millisecond
	var cues []sequence.Cue
	for at := quarter; at < sequence.LongestClearing; at += quarter {
		if said && at%time.Minute == 0 {
			continue
		}
		cues = append(cues, sequence.Cue{At: at, Kind: sequence.CueTick})
		if at%time.Minute == 0 {
			cues = append(cues, sequence.Cue{At: at + apart, Kind: sequence.CueTick})
		}
	}
	return cues
}
