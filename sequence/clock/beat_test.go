package clock

import (
	"testing"
	"testing/synctest"
	"time"
)

// A bubble's time begins at midnight.
func TestToBeat(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		const ms = time.Millisecond
		for _, c := range []struct{ pass, every, want time.Duration }{
			{0, time.Second, time.Second},
			{100 * ms, time.Second, 900 * ms},
			{0, 250 * ms, 150 * ms},
			{899 * ms, time.Second, 1001 * ms}, // nearly there
			{2 * ms, time.Second, 999 * ms},
		} {
			time.Sleep(c.pass)
			if got := UntilBeat(c.every); got != c.want {
				t.Errorf("%v since midnight: %v to the next beat of %v, want %v", time.Now().UnixNano()%int64(time.Minute), got, c.every, c.want)
			}
		}
	})
}
