package clock

// Waking up together: a laptop that is woken for one thing does the others too.

import "time"

// tooShort is so near to a beat that the next is meant.
const tooShort = time.Millisecond

// UntilBeat is the real time until the next beat, of which there is one at each whole
// multiple of every since 1970: whoever waits for beats wakes up with all others who do.
// It is above a millisecond, and at most that longer than every.
func UntilBeat(every time.Duration) time.Duration {
	left := every - time.Duration(time.Now().UnixNano())%every
	if left <= tooShort {
		left += every
	}
	return left
}
