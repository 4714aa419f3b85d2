package cue

// Silence that has been pulled and not been heard yet can be taken back: so a sink may
// sleep through a rest with seconds of it in hand, and a key is answered as soon as ever.

import "time"

// Sooner is told when something is to be heard before the end of what has been pulled.
func (e *Ear) Sooner() <-chan struct{} { return e.sooner }

// Back takes back at most so many of the frames pulled last, as far as they are silence,
// and tells how many. The next pull begins so much earlier.
func (e *Ear) Back(frames int64) int64 {
	e.mu.Lock()
	defer e.mu.Unlock()
	n := e.line.Back(frames)
	e.open = e.open.Add(-inTime(n))
	return n
}

// Reach tells the ear that pulled silence is taken back where something is to be heard
// sooner, and how long after now that can be; 0: it is not.
func (e *Ear) Reach(lead time.Duration) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.lead = lead
}

// reach is the earliest moment at which something new can be heard.
func (e *Ear) reach() time.Time {
	if e.lead == 0 {
		return e.open
	}
	hushed := e.open.Add(-inTime(e.line.Silent()))
	if first := later(hushed, time.Now().Add(e.lead)); first.Before(e.open) {
		return first
	}
	return e.open
}

// hasten tells whoever pulls that something is to be heard before the end of what has
// been pulled. Cues whose time is past are on their way already, or too late.
func (e *Ear) hasten() {
	if e.lead == 0 || e.line.Silent() == 0 {
		return
	}
	dial := e.read()
	for _, w := range e.pending {
		if w.atOnce || dial.due(w.cue.At).Before(e.open) {
			e.tellSooner()
			return
		}
	}
	for _, l := range e.voice.pending {
		if dial.due(l.At).Before(e.open) {
			e.tellSooner()
			return
		}
	}
}

func (e *Ear) tellSooner() {
	select {
	case e.sooner <- struct{}{}:
	default:
	}
}
