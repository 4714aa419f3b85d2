package sink

// When a frame is heard, from what the server answers when it is asked how far it is. An
// answer is old when it comes: by the way back, and with PipeWire, which repeats what it
// knew when its device last took something, by up to a fiftieth of a second more. So it
// may put a frame too late and never too early, and of several the earliest counts.

import (
	"slices"
	"time"
)

// measurementLife is how long an answer counts: crystals drift apart by 0.1 ms in it at most.
const measurementLife = time.Second

// serverAnswer is what the server said once of how far it is.
type serverAnswer struct {
	came   time.Time
	origin time.Time // when frame 0 of the stream was or would have been heard, at the latest
}

// playbackAnchor holds the answers that count; it is empty where the stream may have jumped.
type playbackAnchor []serverAnswer

// with is the anchor with one answer more, and without those that are too old.
func (a playbackAnchor) with(next serverAnswer) playbackAnchor {
	return append(slices.DeleteFunc(a, func(old serverAnswer) bool { return next.came.Sub(old.came) > measurementLife }), next)
}

// origin is when frame 0 was heard as far as is known; there is an answer.
func (a playbackAnchor) origin() time.Time {
	return slices.MinFunc(a, func(x, y serverAnswer) int { return x.origin.Compare(y.origin) }).origin
}
