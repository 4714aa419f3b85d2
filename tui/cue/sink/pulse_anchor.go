package sink

// When a frame is heard, from what the server answers when it is asked.

import (
	"cmp"
	"slices"
	"time"
)

const (
	measureEvery = time.Second / 4
	trusted      = time.Second      // how long an answer counts: crystals drift apart by 0.1 ms in it at most
	margin       = time.Millisecond // what a server's own reckoning is good for
)

// measurement is what one question about the latency gave.
type measurement struct {
	at     time.Time     // of the question
	took   time.Duration // until the answer
	origin time.Time     // when frame 0 of the stream was or would have been heard
}

// contradicts says whether two measurements cannot both be true: the server told its time
// at some moment between question and answer, so an origin is known to half of what the
// answer took. Then the stream has jumped between them.
func (m measurement) contradicts(other measurement) bool {
	return m.origin.Sub(other.origin).Abs() > (m.took+other.took)/2+margin
}

// anchor holds the answers that count, the latest last.
type anchor struct{ answers []measurement }

// stale says whether it is time to ask.
func (a *anchor) stale() bool {
	n := len(a.answers)
	return n == 0 || time.Since(a.answers[n-1].at) >= measureEvery
}

// add takes an answer in; what is old or cannot be true beside it is void.
func (a *anchor) add(m measurement) {
	a.answers = append(slices.DeleteFunc(a.answers, func(old measurement) bool {
		return m.at.Sub(old.at) > trusted || old.contradicts(m)
	}), m)
}

// origin is when frame 0 was heard, by the answer that came quickest: it tells the
// server's own time best.
func (a *anchor) origin() time.Time {
	return slices.MinFunc(a.answers, func(m, o measurement) int { return cmp.Compare(m.took, o.took) }).origin
}
