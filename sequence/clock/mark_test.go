package clock

// What two moments say of each other.

import (
	"testing"
	"time"
)

func TestJumpedAndSlept(t *testing.T) {
	for name, c := range map[string]struct {
		between func(*Simulated)
		step    time.Duration
		jumped  bool
		slept   time.Duration
	}{
		"nothing":            {func(s *Simulated) { s.Advance(time.Second) }, 0, false, 0},
		"an hour on":         {func(s *Simulated) { s.StepWall(time.Hour); s.Advance(time.Second) }, time.Hour, true, 0},
		"three hours back":   {func(s *Simulated) { s.StepWall(-3 * time.Hour) }, -3 * time.Hour, true, 0},
		"under the limit":    {func(s *Simulated) { s.StepWall(250 * time.Millisecond) }, 250 * time.Millisecond, false, 0},
		"over the limit":     {func(s *Simulated) { s.StepWall(-251 * time.Millisecond) }, -251 * time.Millisecond, true, 0},
		"slept":              {func(s *Simulated) { s.Sleep(20 * time.Minute) }, 0, false, 20 * time.Minute},
		"slept and stepped":  {func(s *Simulated) { s.Sleep(time.Minute); s.StepWall(time.Second) }, time.Second, true, time.Minute},
		"steered for a day":  {func(s *Simulated) { s.Slew(500e-6); s.Advance(24 * time.Hour) }, 0, false, 0},
		"noise of a reading": {func(s *Simulated) { s.Sleep(4 * time.Millisecond) }, 0, false, 0},
		"another boot":       {func(s *Simulated) { s.Reboot(time.Minute); s.StepWall(time.Hour); s.Sleep(2 * time.Hour) }, 0, false, 0},
	} {
		s := still()
		prev := s.Read()
		c.between(s)
		now := s.Read()
		step, jumped := Jumped(prev, now)
		if (step-c.step).Abs() > wallGrain || jumped != c.jumped {
			t.Errorf("%s: jumped %v %v; expected %v %v", name, step, jumped, c.step, c.jumped)
		}
		if got := Slept(prev, now); got != c.slept {
			t.Errorf("%s: slept %v; expected %v", name, got, c.slept)
		}
	}
}

func TestSameBoot(t *testing.T) {
	at := func(boot string, d time.Duration) Mark { return Mark{Boot: boot, Boottime: d} }
	for _, c := range []struct {
		prev, now Mark
		want      bool
	}{
		{at("a", 5), at("a", 5), true},
		{at("a", 5), at("a", 9), true},
		{at("a", 5), at("a", 4), false},
		{at("a", 5), at("b", 9), false},
		{at("", 5), at("", 9), false},
	} {
		if got := SameBoot(c.prev, c.now); got != c.want {
			t.Errorf("%+v then %+v: %v", c.prev, c.now, got)
		}
	}
}

// A mark without Raw, as other systems write it, is measured by the boot clock.
func TestPassedWithoutRaw(t *testing.T) {
	prev := Mark{Boot: "a", Boottime: time.Hour, Monotonic: time.Hour}
	now := Mark{Boot: "a", Boottime: 3 * time.Hour, Monotonic: 2 * time.Hour, Raw: 2 * time.Hour}
	if got := Passed(prev, now); got != 2*time.Hour {
		t.Errorf("passed %v; expected 2 h", got)
	}
	if got := Passed(now, prev); got != 0 {
		t.Errorf("backwards %v; expected 0", got)
	}
}

// The tightest of three pairs is kept, and no more are read than it takes for one that
// is tight.
func TestTightest(t *testing.T) {
	const ms = time.Millisecond
	for _, c := range []struct {
		widths     []time.Duration
		kept, read int
	}{
		{[]time.Duration{5 * ms, 2 * ms, 9 * ms}, 2, 3},
		{[]time.Duration{5 * ms, closeEnough, ms}, 2, 2},
		{[]time.Duration{closeEnough, 0, 0}, 1, 1},
		{[]time.Duration{ms, 5 * ms, closeEnough + 1}, 3, 3},
	} {
		i := 0
		got := tightestReading(func() (Mark, time.Duration) {
			i++
			return Mark{Boottime: time.Duration(i)}, c.widths[i-1]
		})
		if got.Boottime != time.Duration(c.kept) || i != c.read {
			t.Errorf("%v: kept reading %d of %d; expected %d of %d", c.widths, got.Boottime, i, c.kept, c.read)
		}
	}
}
