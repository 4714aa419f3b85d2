package clock

// The clocks of Windows, as far as wine has them.

import (
	"testing"
	"time"
)

// A step of the clock is finer than the 15.6 ms of the timer interrupt (Microsoft,
// "Acquiring high-resolution time stamps"), and the clocks count the same seconds as Go's.
func TestFinerThanTheTimerInterrupt(t *testing.T) {
	if preciseSinceBoot.Find() != nil {
		t.Skip("this Windows has no precise interrupt time")
	}
	for name, read := range map[string]func() time.Duration{"since boot": interruptTime(preciseSinceBoot), "awake": interruptTime(preciseAwake)} {
		began, start := time.Now(), read()
		steps := map[time.Duration]bool{}
		for time.Since(began) < 50*time.Millisecond {
			steps[read()] = true
		}
		passed := read() - start
		if real := time.Since(began); (passed - real).Abs() > 40*time.Millisecond {
			t.Errorf("%s: %v passed in %v", name, passed, real)
		}
		if len(steps) < 10 { // 15.6 ms would give four
			t.Errorf("%s: told %d different times in 50 ms", name, len(steps))
		}
	}
}
