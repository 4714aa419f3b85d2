package cue

// The timeline: an endless stream that is silent but for the sounds placed on
// it by frame number. It knows frames alone, no clock.

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/faiface/beep"
)

const (
	lateAfter     = int64(Rate) / 1000 // frames: what begins later than this counts as late
	dropAfter     = 3 * int64(Rate)    // frames: what would begin later than this is dropped
	endResolution = 512                // frames: so exactly it is known when all has ended
)

// Placing is a sound and the frame of its first sample.
type Placing struct {
	Frame int64
	Sound beep.Streamer
	state placingState
}

// placingState is what has become of a placing.
type placingState int

const (
	statePending placingState = iota
	stateBegun
	stateDropped // dropped, too late
)

// Timeline is a beep.Streamer that never ends. The zero value is ready, at
// frame 0. It may be used from several goroutines.
type Timeline struct {
	mu      sync.Mutex
	mixer   beep.Mixer // what has begun
	next    int64      // the frame that the next pull begins with
	pending []*Placing // by frame
	late    int
	dropped int
}

// Add places one sound more. A frame already streamed means at once, and counts
// as late; more than three seconds late, it is dropped and counted.
func (t *Timeline) Add(frame int64, sound beep.Streamer) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.pending = append(t.pending, &Placing{Frame: frame, Sound: sound})
	t.sort()
}

// Replace puts these placings in the place of all that have not begun.
func (t *Timeline) Replace(placings []*Placing) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.pending = slices.Clone(placings)
	t.sort()
}

func (t *Timeline) sort() {
	slices.SortStableFunc(t.pending, func(a, b *Placing) int { return cmp.Compare(a.Frame, b.Frame) })
}

// Next is the number of the frame that the next pull begins with.
func (t *Timeline) Next() int64 {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.next
}

// Counts are how many sounds began late, and how many were dropped.
func (t *Timeline) Counts() (late, dropped int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.late, t.dropped
}

// Stream fills all of samples. What is heard does not depend on how the frames
// are divided among calls.
func (t *Timeline) Stream(samples [][2]float64) (int, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for rest := samples; len(rest) > 0; {
		t.begin()
		n := len(rest)
		if len(t.pending) > 0 {
			n = int(min(int64(n), t.pending[0].Frame-t.next))
		}
		if t.mixer.Len() > 0 {
			n = min(n, endResolution)
		}
		t.mix(rest[:n])
		t.next += int64(n)
		rest = rest[n:]
	}
	return len(samples), true
}

// Err is always nil.
func (t *Timeline) Err() error { return nil }

// begin moves what is due to the mixer.
func (t *Timeline) begin() {
	for len(t.pending) > 0 && t.pending[0].Frame <= t.next {
		p := t.pending[0]
		t.pending = t.pending[1:]
		by := t.next - p.Frame
		if by > dropAfter {
			p.state = stateDropped
			t.dropped++
			continue
		}
		if by > lateAfter {
			t.late++
		}
		p.state = stateBegun
		t.mixer.Add(p.Sound)
	}
}

func (t *Timeline) mix(samples [][2]float64) {
	if t.mixer.Len() == 0 {
		clear(samples)
		return
	}
	t.mixer.Stream(samples)
	for i, s := range samples {
		samples[i] = [2]float64{softClip(s[0]), softClip(s[1])}
	}
}

// softClip leaves a sample alone up to 0.8 and bends the rest so that it never comes to
// 1: sounds that overlap do not clip, however many they are.
func softClip(x float64) float64 {
	const knee = 0.8
	if math.Abs(x) <= knee {
		return x
	}
	over := (math.Abs(x) - knee) / (1 - knee)
	return math.Copysign(knee+(1-knee)*over/(1+over), x)
}
