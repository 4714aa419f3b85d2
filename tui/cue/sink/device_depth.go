package sink

import "time"

// depthMeter measures how much a device takes in hand: it takes that at once when it
// begins, and from then on no more than it has played.
type depthMeter struct {
	began time.Time // when nothing had been taken yet, for the last time
	depth time.Duration
}

// see tells how many frames the device has taken by a moment.
func (m *depthMeter) see(now time.Time, taken int64) {
	if taken == 0 || m.began.IsZero() {
		m.began = now
	}
	m.depth = max(m.depth, timeOf(taken)-now.Sub(m.began))
}
