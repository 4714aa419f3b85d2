package cue

// Silence that has been pulled and not been heard yet can be taken back: so a sink may
// sleep through a rest with seconds of it in hand, and a key is answered as soon as ever.

import "time"

// Wake is told when something is to be heard before the end of what has been pulled.
func (e *Ear) Wake() <-chan struct{} { return e.wake }

// Rewind takes back at most so many of the frames pulled last, as far as they are silence,
// and tells how many. The next pull begins so much earlier.
func (e *Ear) Rewind(frames int64) int64 {
	e.mu.Lock()
	defer e.mu.Unlock()
	n := e.timeline.Rewind(frames)
	e.pulledUntil = e.pulledUntil.Add(-inTime(n))
	return n
}

// SetLatency tells the ear that pulled silence is taken back where something is to be heard
// sooner, and how long after now that can be; 0: it is not.
func (e *Ear) SetLatency(lead time.Duration) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.rewindLatency = lead
}

// earliest is the earliest moment at which something new can be heard.
func (e *Ear) earliest() time.Time {
	if e.rewindLatency == 0 {
		return e.pulledUntil
	}
	hushed := e.pulledUntil.Add(-inTime(e.timeline.SilentFrames()))
	if first := laterOf(hushed, time.Now().Add(e.rewindLatency)); first.Before(e.pulledUntil) {
		return first
	}
	return e.pulledUntil
}

// wakeIfSooner tells whoever pulls that something is to be heard before the end of what has
// been pulled. Cues whose time is past are on their way already, or too late.
func (e *Ear) wakeIfSooner() {
	if e.rewindLatency == 0 || e.timeline.SilentFrames() == 0 {
		return
	}
	dial := e.readClock()
	for _, w := range e.pending {
		if w.atOnce || dial.due(w.cue.At).Before(e.pulledUntil) {
			e.signalWake()
			return
		}
	}
	for _, l := range e.voice.pending {
		if dial.due(l.At).Before(e.pulledUntil) {
			e.signalWake()
			return
		}
	}
}

func (e *Ear) signalWake() {
	select {
	case e.wake <- struct{}{}:
	default:
	}
}
