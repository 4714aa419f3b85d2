package cue

// The ear: takes the cues of the next seconds from the engine and puts each on
// the timeline where the clock and the loudspeaker say that it will be heard on
// time. A cue is placed anew at every pull until it begins, so the last word on
// latency counts.

import (
	"math"
	"slices"
	"sync"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

const (
	sameWithin = 100 * time.Millisecond // process time; a cue computed anew may differ by rounding
	maxBegun   = 512                    // cues that have begun
)

// pendingCue is a cue that has not begun.
type pendingCue struct {
	cue     sequence.Cue
	atOnce  bool // asked for by Play: no instant, not the engine's
	length  time.Duration
	placing Placing
}

// Ear places cues. It may be used from several goroutines: the engine calls
// Schedule, a sink calls Pull.
type Ear struct {
	clock clock.Clock

	mu          sync.Mutex
	timeline    Timeline
	pending     []*pendingCue
	begun       []sequence.Cue // the latest; a cue is heard at most once
	silent      time.Time      // when the last sound begun has been heard to its end
	count       int
	pulledUntil time.Time // what is heard before has been pulled
	voice       voice
	units       sequence.Units // on which scale temperatures are said
	signal      *fadeable      // the latest; nil before one
}

// NewEar makes an ear that knows the time from c.
func NewEar(c clock.Clock) *Ear { return &Ear{clock: c} }

// Schedule replaces all cues that are still to come. What has begun, and what is
// past but still on its way to the loudspeaker, is left alone; a cue that has
// begun is not begun again. A rest that falls together with another cue is not
// sounded. It never waits for a device.
func (e *Ear) Schedule(cues []sequence.Cue) {
	scene, speaks := e.situation()
	e.mu.Lock()
	defer e.mu.Unlock()
	kept := slices.DeleteFunc(e.pending, func(w *pendingCue) bool {
		return !w.atOnce && (e.clock.Until(w.cue.At) > 0 || containsCue(cues, w.cue))
	})
	for i, c := range cues {
		if containsCue(e.begun, c) || containsCue(cues[:i], c) || isMergedRest(cues, c) {
			continue
		}
		kept = append(kept, &pendingCue{cue: c, length: Length(c.Kind), placing: Placing{Sound: Sound(c.Kind)}})
	}
	e.pending = kept
	if speaks {
		e.replan(scene)
	}
}

// Play sounds one kind of cue as soon as possible, whatever is scheduled.
func (e *Ear) Play(kind sequence.CueKind) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.pending = append(e.pending, &pendingCue{cue: sequence.Cue{Kind: kind}, atOnce: true, length: Length(kind),
		placing: Placing{Sound: Sound(kind)}})
}

// SayNow says words as soon as possible, where there is no session whose tones they
// could meet.
func (e *Ear) SayNow(p Phrase) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.pending = append(e.pending, &pendingCue{atOnce: true, length: p.Length(), placing: Placing{Sound: p.Streamer()}})
}

// Pull fills the next frames for a loudspeaker that will be heard to play the
// first of them at the given time.
func (e *Ear) Pull(frames [][2]float64, heard time.Time) {
	e.mu.Lock()
	defer e.mu.Unlock()
	first, dial := e.timeline.Next(), e.readClock()
	placings := make([]*Placing, len(e.pending))
	for i, w := range e.pending {
		w.placing.Frame = first
		if !w.atOnce {
			w.placing.Frame += inFrames(dial.due(w.cue.At).Sub(heard))
		}
		placings[i] = &w.placing
	}
	e.cutForTones(first + int64(len(frames)))
	e.timeline.Replace(append(placings, e.lines(first, heard, dial)...))
	e.timeline.Stream(frames)
	e.pulledUntil = heard.Add(inTime(int64(len(frames))))
	e.noteSpoken(first, heard)
	e.pending = slices.DeleteFunc(e.pending, func(w *pendingCue) bool { return e.isSettled(w, first, heard) })
}

// isSettled says whether a cue needs no placing any more, and keeps what must be
// known of it. First is the frame that is heard at the given time.
func (e *Ear) isSettled(w *pendingCue, first int64, heard time.Time) bool {
	if w.placing.state == statePending {
		return false
	}
	if !w.atOnce {
		e.begun = append(e.begun, w.cue)
		e.begun = e.begun[max(0, len(e.begun)-maxBegun):]
	}
	if w.placing.state == stateBegun {
		e.count++
		onset := heard.Add(inTime(max(0, w.placing.Frame-first)))
		e.silent = laterOf(e.silent, onset.Add(w.length))
	}
	return true
}

// Remaining is how long it takes until all that is scheduled or sounding has been
// heard; 0 where nothing is.
func (e *Ear) Remaining() time.Duration {
	e.mu.Lock()
	defer e.mu.Unlock()
	end, dial := laterOf(e.silent, e.voice.playingUntil), e.readClock()
	for _, l := range e.voice.pending {
		end = laterOf(end, dial.due(l.At).Add(l.Says.Length()))
	}
	for _, w := range e.pending {
		onset := time.Now()
		if !w.atOnce {
			onset = dial.due(w.cue.At)
		}
		end = laterOf(end, onset.Add(w.length))
	}
	return max(0, time.Until(end))
}

// Counts are how many cues have begun, how many of these late (over 1 ms), and
// how many were dropped because they would have come over three seconds late.
func (e *Ear) Counts() (begun, late, dropped int) {
	e.mu.Lock()
	defer e.mu.Unlock()
	late, dropped = e.timeline.Counts()
	return e.count, late, dropped
}

// clockReading is the session's clock beside Go's monotonic one. Reading clocks costs more
// than all else that an ear does in silence: it is done once for all that is pending.
type clockReading struct {
	now        sequence.Elapsed
	wall       time.Time     // the same on Go's clock
	hourLength time.Duration // real time that an hour of the session takes
}

// readClock reads the dial. A pause between its two readings is nothing beside an hour.
func (e *Ear) readClock() clockReading {
	now := e.clock.Mark().Elapsed
	here := e.due(now)
	return clockReading{now, here, e.due(now + time.Hour).Sub(here)}
}

// due is an instant of the session on Go's clock.
func (d clockReading) due(at sequence.Elapsed) time.Time {
	return d.wall.Add(time.Duration(math.Round(float64(at-d.now) * d.hourLength.Hours())))
}

// due is an instant of the session on Go's monotonic clock. Both clocks are read
// in turn; the tightest of three readings counts if the machine stalls between.
func (e *Ear) due(at sequence.Elapsed) time.Time {
	const tight = 50 * time.Microsecond
	var best time.Time
	width := time.Duration(math.MaxInt64)
	for try := 0; try < 3 && width > tight; try++ {
		before := time.Now()
		left := e.clock.Until(at)
		if w := time.Since(before); w < width {
			best, width = before.Add(w/2+left), w
		}
	}
	return best
}

// containsCue says whether a cue, or the same cue moved by a rounding error, is
// among others.
func containsCue(cues []sequence.Cue, c sequence.Cue) bool {
	return slices.ContainsFunc(cues, func(o sequence.Cue) bool {
		return o.Kind == c.Kind && o.Sheet == c.Sheet && o.Step == c.Step && (o.At-c.At).Abs() < sameWithin
	})
}

// isMergedRest says whether c is a rest that another cue says anyway.
func isMergedRest(cues []sequence.Cue, c sequence.Cue) bool {
	return c.Kind == sequence.CueStand && slices.ContainsFunc(cues, func(o sequence.Cue) bool {
		return o.Kind != sequence.CueStand && (o.At-c.At).Abs() < sameWithin
	})
}

func laterOf(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// inFrames is a time as frames, rounded to the nearest; a time beyond a year
// either way counts as a year.
func inFrames(d time.Duration) int64 {
	const year = 365 * 24 * time.Hour
	return int64(math.Round(min(max(d, -year), year).Seconds() * float64(Rate)))
}

func inTime(frames int64) time.Duration {
	return time.Duration(math.Round(float64(frames) / float64(Rate) * float64(time.Second)))
}
