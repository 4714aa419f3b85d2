package tui

// The big key in wet hands: a touch that bounces or is held counts once; two
// touches within two seconds are an act.

import "time"

const (
	bounce = 400 * time.Millisecond // nearer than this to the last is the same touch
	second = 2 * time.Second        // later than this the first touch is forgotten
)

// presses tells touches of one key apart.
type presses struct {
	last  time.Time // anything heard of the key
	first time.Time // the touch that waits for its second; zero if none
}

// touch is what one key message amounts to.
type touch int

const (
	sameTouch touch = iota // still the last one
	oneTouch
	twoTouches
)

// over forgets a touch that has done its work; a key still held stays the same touch.
func (p presses) over() presses { return presses{last: p.last} }

// hit takes in a key message at now.
func (p presses) hit(now time.Time) (presses, touch) {
	near := !p.last.IsZero() && now.Sub(p.last) < bounce
	p.last = now
	switch {
	case near:
		return p, sameTouch
	case !p.first.IsZero() && now.Sub(p.first) <= second:
		p.first = time.Time{}
		return p, twoTouches
	}
	p.first = now
	return p, oneTouch
}
