package sink

import (
	"testing"
	"time"
)

// A device of a known depth that takes what it has played each 10 ms, looked at each 5 ms: the
// depth is found to one look and one gulp.
func TestDepthOfADevice(t *testing.T) {
	for _, depth := range []time.Duration{20 * time.Millisecond, 50 * time.Millisecond, 180 * time.Millisecond} {
		var m depthMeter
		begins := 37 * time.Millisecond
		for at := time.Duration(0); at < 400*time.Millisecond; at += 5 * time.Millisecond {
			taken := time.Duration(0)
			if at >= begins {
				taken = depth + (at - begins).Truncate(10*time.Millisecond)
			}
			m.see(time.Unix(0, 0).Add(at), int64(taken*Rate/time.Second))
		}
		if low := depth - 5*time.Millisecond; m.depth < low-time.Millisecond || m.depth > depth {
			t.Errorf("%v: measured %v", depth, m.depth)
		}
	}
}
