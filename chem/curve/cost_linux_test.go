package curve

// What an interval costs, in seconds of the processor: others use the machine too.

import (
	"syscall"
	"testing"
	"time"
)

// A family of five curves of 31 steps with 1,000 rounds takes under half a second, and
// eight times the rounds about eight times as long.
func TestBootstrapGrowsWithItsRounds(t *testing.T) {
	f := five(t)
	least := func(rounds int) time.Duration {
		best := time.Hour
		for range 4 {
			began := spent(t)
			if _, err := Evaluate(f, Request{Smooth: 0.01, Target: 0.6, Rounds: rounds}); err != nil {
				t.Fatal(err)
			}
			best = min(best, spent(t)-began)
		}
		return best
	}
	thousand, eight := least(1000), least(8000)
	t.Logf("1,000 rounds %v, 8,000 %v", thousand, eight)
	if limit := 500 * time.Millisecond; thousand > limit {
		t.Errorf("1,000 rounds take %v; expected %v at most", thousand, limit)
	}
	if ratio := float64(eight) / float64(thousand); ratio > 14 {
		t.Errorf("8,000 rounds take %.1f times as long as 1,000; expected about 8", ratio)
	}
}

// spent is the processor time of this program so far.
func spent(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
