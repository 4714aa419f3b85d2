package main

// What is heard of the clearing test's stopwatch: what to do, a tick each quarter of
// a minute, and the minutes.

import (
	"sync"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

// hearWatch makes a stopwatch heard, from now on: what to do, the ticks; the minutes
// are for whoever looks at it.
func (p *program) hearWatch(by aloud, watch clock.Clock) (*sound, error) {
	out, err := p.openSound(by.sound, watch)
	if err != nil {
		return nil, err
	}
	out.level = by.voice
	out.ear.Schedule(ticking(out.speaks()))
	out.say(cue.PressWhenClear())
	return out, nil
}

// say says something where there is a voice.
func (s *sound) say(words cue.Phrase) {
	if s.speaks() {
		s.ear.Utter(words)
	}
}

// heardWatch is the stopwatch of the screens, as far as it is heard; nil for none.
type heardWatch struct {
	once sync.Once
	stop chan struct{} // closed when it is to end
	over chan struct{} // closed when its loudspeaker is free
}

// beginWatch makes a stopwatch heard that began just now. Nobody waits for the
// loudspeaker; without one it is silent.
func (p *program) beginWatch(by aloud) *heardWatch {
	w := &heardWatch{stop: make(chan struct{}), over: make(chan struct{})}
	watch := clock.New(p.source, 0, 1)
	go func() {
		defer close(w.over)
		out, err := p.hearWatch(by, watch)
		if err != nil {
			return
		}
		defer out.close()
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
				out.say(cue.Time(minutes))
			}
		}
	}()
	return w
}

// end ends it; what it returns is closed when its loudspeaker is free.
func (w *heardWatch) end() <-chan struct{} {
	if w == nil {
		over := make(chan struct{})
		close(over)
		return over
	}
	w.once.Do(func() { close(w.stop) })
	return w.over
}

// ticking is what is heard of ten minutes: in the place of a minute that is said there
// is no tick.
func ticking(said bool) []sequence.Cue {
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
