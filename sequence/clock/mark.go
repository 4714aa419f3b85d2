package clock

// A moment as every clock tells it, and what two moments say of each other.

import (
	"strings"
	"time"
)

// Mark is one moment on every clock at once.
type Mark struct {
	Boot      string        `json:"boot"`           // names this run of the kernel
	Boottime  time.Duration `json:"boottime_s"`     // since boot, sleep included
	Monotonic time.Duration `json:"monotonic_s"`    // since boot, sleep left out
	Raw       time.Duration `json:"raw_s,omitzero"` // Monotonic as the crystal counts it, not steered by network time; 0 where not known
	Wall      time.Time     `json:"wall"`           // what a clock on the wall says, to the millisecond
	Elapsed   time.Duration `json:"elapsed_s"`      // process time since the first sheet went in
}

// JumpThreshold is the least step of the wall clock that Jumped reports. The
// clocks of one Mark are read within a few milliseconds of each other.
const JumpThreshold = 250 * time.Millisecond

// sleepThreshold keeps the noise of reading two clocks one after the other
// from being told as sleep.
const sleepThreshold = 10 * time.Millisecond

// SameBoot reports whether now belongs to the run of the kernel in which prev
// was taken: the same name, and a boot clock that has not gone back.
func SameBoot(prev, now Mark) bool {
	return prev.Boot == now.Boot && prev.Boot != "" && now.Boottime >= prev.Boottime
}

// CountsSleep reports whether the clocks count sleep and are the computer's own: then a
// later run of the program knows exactly how much time went by.
func (m Mark) CountsSleep() bool { return m.Boot != "" && !strings.HasPrefix(m.Boot, processBoot) }

// Passed is the real time from prev to now, two moments of one boot, never
// negative. It counts sleep and ignores the steering of network time, which
// bends the boot clock: steered seconds are only used for the sleep, by which
// Boottime runs ahead of Monotonic.
func Passed(prev, now Mark) time.Duration {
	passed := now.Boottime - prev.Boottime
	if prev.Raw != 0 && now.Raw != 0 {
		passed += (now.Raw - prev.Raw) - (now.Monotonic - prev.Monotonic)
	}
	return max(passed, 0)
}

// Slept is how long the laptop slept between two moments; 0 across boots.
func Slept(prev, now Mark) time.Duration {
	slept := (now.Boottime - prev.Boottime) - (now.Monotonic - prev.Monotonic)
	if !SameBoot(prev, now) || slept < sleepThreshold {
		return 0
	}
	return slept
}

// Jumped tells by how much the wall clock was stepped between two moments of
// one boot, and whether that is more than JumpThreshold. Meant for moments
// seconds apart: where the boot clock is not steered with the wall clock, they
// drift apart by parts in a hundred thousand.
func Jumped(prev, now Mark) (time.Duration, bool) {
	if !SameBoot(prev, now) {
		return 0, false
	}
	step := now.Wall.Sub(prev.Wall) - (now.Boottime - prev.Boottime)
	return step, step.Abs() > JumpThreshold
}
