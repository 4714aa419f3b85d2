// Package press tells touches of one key apart, in wet hands: a touch that bounces or is
// held counts once; two touches within two seconds are an act. It holds no clock: whoever
// hears the key says when.
package press

import "time"

const (
	bounce = 400 * time.Millisecond // nearer than this to the last is the same touch
	window = 2 * time.Second        // later than this the first touch is forgotten
)

// Kind is what one key message amounts to.
type Kind int

// The kinds.
const (
	Same Kind = iota // still the last touch
	One              // a touch by itself, or the first of two
	Two              // the second of two
)

// Detector follows one key. Its zero value has heard nothing.
type Detector struct {
	last  time.Time // anything heard of the key
	first time.Time // the touch that waits for its second; zero if none
}

// Reset forgets a touch that has done its work; a key still held stays the same touch.
func (d Detector) Reset() Detector { return Detector{last: d.last} }

// Press takes in a key message at now.
func (d Detector) Press(now time.Time) (Detector, Kind) {
	near := !d.last.IsZero() && now.Sub(d.last) < bounce
	d.last = now
	switch {
	case near:
		return d, Same
	case !d.first.IsZero() && now.Sub(d.first) <= window:
		d.first = time.Time{}
		return d, Two
	}
	d.first = now
	return d, One
}
