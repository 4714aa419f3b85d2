package clock

// Values that the other tests would let drift: the grace of a wall clock, a slow rehearsal, a
// skip into the past, a steered clock, whose clocks count sleep.

import (
	"testing"
	"time"
)

// A battery clock is read to the whole second and drifts by parts in ten thousand at most: two
// seconds are its grace, and more contradicts the boot clock.
func TestTheGraceOfAWallClock(t *testing.T) {
	for behind, want := range map[time.Duration]Certainty{0: Estimated, 1900 * time.Millisecond: Estimated, 2200 * time.Millisecond: Unknown} {
		s := still()
		anchor := New(s, time.Minute, 1).Mark()
		s.Reboot(0)
		s.Advance(time.Minute)
		s.StepWall(-behind)
		_, res := Resume(s, anchor, 1)
		if res.Certainty != want {
			t.Errorf("%v behind: %s; want %s", behind, res.Certainty, want)
		}
		if byHand := 2*time.Minute + 2*time.Second; behind == 0 && (res.Latest < byHand || res.Latest > byHand+100*time.Millisecond) {
			t.Errorf("latest is %v; want a little over %v", res.Latest, byHand)
		}
	}
}

func TestASlowRehearsal(t *testing.T) {
	s := still()
	r := New(s, 0, 0.5)
	s.Advance(time.Minute)
	if got := r.Mark().Elapsed; got != 30*time.Second || r.factor != 0.5 {
		t.Errorf("half as fast: %v after a minute", got)
	}
	if got := New(s, 0, 2).Until(10 * time.Second); got != 5*time.Second {
		t.Errorf("twice as fast: 10 s are %v away; want 5 s", got)
	}
	for _, none := range []float64{0, -1} {
		if got := New(s, 0, none).factor; got != 1 {
			t.Errorf("factor %v is taken as %v; want 1", none, got)
		}
	}
}

// Nobody looked at the clock since it began; a skip to what is past by now changes nothing.
func TestASkipIntoThePast(t *testing.T) {
	s := still()
	r := New(s, 0, 1)
	s.Advance(10 * time.Second)
	r.Skip(5 * time.Second)
	if got := r.Mark().Elapsed; got != 10*time.Second {
		t.Errorf("%v; want 10 s", got)
	}
	r.Skip(20 * time.Second)
	s.Advance(time.Second)
	if got := r.Mark().Elapsed; got != 21*time.Second {
		t.Errorf("%v; want 21 s", got)
	}
}

// A hundredth faster is 36 s in an hour, on the steered clocks alone.
func TestASteeredSource(t *testing.T) {
	s := still()
	s.Slew(0.01)
	before := s.Read()
	s.Advance(time.Hour)
	now := s.Read()
	want := time.Hour + 36*time.Second
	if got := now.Boottime - before.Boottime; got != want || now.Monotonic-before.Monotonic != want || now.Raw-before.Raw != time.Hour {
		t.Errorf("boot clock %v, raw %v; want %v and an hour", got, now.Raw-before.Raw, want)
	}
}

func TestWhoseClocksCountSleep(t *testing.T) {
	for boot, want := range map[string]bool{"": false, newProcess(7).Read().Boot: false, "8c2f5f0e-0000-4000-8000-000000000001": true} {
		if got := (Mark{Boot: boot}).CountsSleep(); got != want {
			t.Errorf("%q: %v; want %v", boot, got, want)
		}
	}
}
