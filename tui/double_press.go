package tui

// The big key in wet hands: a touch that bounces or is held counts once; two
// touches within two seconds are an act.

import "time"

const (
	bounceTime  = 400 * time.Millisecond // nearer than this to the last is the same touch
	pressWindow = 2 * time.Second        // later than this the first touch is forgotten
)

// pressDetector tells touches of one key apart.
type pressDetector struct {
	last  time.Time // anything heard of the key
	first time.Time // the touch that waits for its second; zero if none
}

// pressKind is what one key message amounts to.
type pressKind int

const (
	samePress pressKind = iota // still the last one
	onePress
	twoPresses
)

// reset forgets a touch that has done its work; a key still held stays the same touch.
func (p pressDetector) reset() pressDetector { return pressDetector{last: p.last} }

// press takes in a key message at now.
func (p pressDetector) press(now time.Time) (pressDetector, pressKind) {
	near := !p.last.IsZero() && now.Sub(p.last) < bounceTime
	p.last = now
	switch {
	case near:
		return p, samePress
	case !p.first.IsZero() && now.Sub(p.first) <= pressWindow:
		p.first = time.Time{}
		return p, twoPresses
	}
	p.first = now
	return p, onePress
}
