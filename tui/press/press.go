// Package press tells touches of one key apart, in wet hands: a touch that bounces or is
// held counts once; two touches within two seconds are an act. It holds no clock: whoever
// hears the key says when, and when nothing more was heard for Silence.
//
// A key that is held types again and again, first after 0.2 to 1 s and then 10 to 40 times a
// second (X.org 660 ms, GNOME 500, Plasma 600, the Linux console 250, each measured or from
// its documentation). So a touch that could be the first of such repeats counts only when it
// is followed by silence, or, as a first one, by a repeat as late as a first one is. Where the terminal tells that a key was let go, that is believed.
package press

import "time"

const (
	bounce = 400 * time.Millisecond  // nearer than this to the last is the same touch
	window = 2 * time.Second         // later than this the first touch is forgotten
	repeat = 1100 * time.Millisecond // later than this no keyboard begins to repeat
	begins = 200 * time.Millisecond  // sooner than this none does
)

// Silence is how long after a touch that may be a repeat no key must come.
const Silence = 300 * time.Millisecond

// Kind is what one key message amounts to.
type Kind int

// The kinds.
const (
	Same Kind = iota // still the last touch, or not known yet
	One              // a touch by itself, or the first of two
	Two              // the second of two
)

// Detector follows one key. Its zero value has heard nothing.
type Detector struct {
	last    time.Time // anything heard of the key
	first   time.Time // the touch that waits for its second; zero if none
	waiting Kind      // what the last touch is, if silence follows it; Same for nothing
	tells   bool      // the terminal tells when the key is let go
	down    bool      // it was not let go, as far as the terminal tells
}

// Reset forgets a touch that has done its work; a key still held stays the same touch.
func (d Detector) Reset() Detector { return Detector{last: d.last, tells: d.tells, down: d.down} }

// Press takes in a key message at now.
func (d Detector) Press(now time.Time) (Detector, Kind) {
	gap, heard := now.Sub(d.last), !d.last.IsZero()
	held, waited, before := d.tells && d.down, d.waiting, d.last
	d.last, d.down = now, true
	d.waiting = Same
	switch near := heard && gap < bounce; {
	case near && waited != Same && gap >= begins && !held: // a touch of its own that is held now: its first repeat
		d.first = before
		return d, One
	case held || near:
		return d, Same
	}
	kind := One
	if !d.first.IsZero() && now.Sub(d.first) <= window {
		kind = Two
	}
	if !d.tells && (kind == Two || heard && gap <= repeat) {
		d.waiting = kind
		return d, Same
	}
	return d.counts(kind)
}

// counts is a touch that is one.
func (d Detector) counts(kind Kind) (Detector, Kind) {
	d.first, d.waiting = d.last, Same
	if kind == Two {
		d.first = time.Time{}
	}
	return d, kind
}

// Quiet takes in that no key has come for Silence: a touch that waited for that counts.
func (d Detector) Quiet() (Detector, Kind) {
	if d.waiting == Same {
		return d, Same
	}
	return d.counts(d.waiting)
}

// Release takes in that the terminal told that the key was let go.
func (d Detector) Release() Detector {
	d.tells, d.down = true, false
	return d
}

// Other takes in that another key came: what waited for silence is no touch.
func (d Detector) Other() Detector {
	d.waiting = Same
	return d
}
