package clock

// Taking up: exact in the same boot, an interval that holds the truth in
// another, and no false trust in a wrong wall clock.

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestResumeExact(t *testing.T) {
	for name, c := range map[string]struct {
		factor  float64
		between func(*Simulated)
		passed  time.Duration
		slept   time.Duration
	}{
		"at once":         {1, func(*Simulated) {}, 0, 0},
		"awake":           {1, func(s *Simulated) { s.Advance(90*time.Second + 7) }, 90*time.Second + 7, 0},
		"slept":           {1, func(s *Simulated) { s.Advance(time.Second); s.Sleep(30 * time.Minute) }, 30*time.Minute + time.Second, 30 * time.Minute},
		"steered":         {1, func(s *Simulated) { s.Slew(0.01); s.Advance(time.Hour) }, time.Hour, 0},
		"wall stepped":    {1, func(s *Simulated) { s.StepWall(-48 * time.Hour); s.Advance(time.Hour) }, time.Hour, 0},
		"rehearsal":       {30, func(s *Simulated) { s.Advance(time.Minute) }, time.Minute, 0},
		"rehearsal slept": {30, func(s *Simulated) { s.Sleep(time.Minute) }, time.Minute, time.Minute},
	} {
		s := still()
		old := New(s, -10*time.Second, c.factor)
		s.Advance(25 * time.Second)
		anchor := old.Mark()
		c.between(s)
		r, res := Resume(s, anchor, c.factor)
		want := anchor.Elapsed + time.Duration(float64(c.passed)*c.factor)
		if res.Certainty != Exact || res.Earliest != want || res.Latest != want || res.Now.Elapsed != want ||
			res.Slept != c.slept || res.Gap != c.passed {
			t.Errorf("%s: %+v; expected exactly %v", name, res, want)
		}
		for range 2 {
			if got, lived := r.Mark().Elapsed, old.Mark().Elapsed; got != want || lived != want {
				t.Errorf("%s: resumed clock says %v, the old one %v; expected %v", name, got, lived, want)
			}
			s.Advance(time.Second)
			want += time.Duration(c.factor) * time.Second
		}
	}
}

// After a reboot the truth lies in the interval, by the wall clock within the
// grace it is given; and never before the earliest, whatever the wall says.
func TestResumeAfterReboot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := still()
		factor := rapid.SampledFrom([]float64{1, 20}).Draw(t, "factor")
		anchor := New(s, time.Minute, factor).Mark()
		upTo := func(name string, most time.Duration) time.Duration {
			return time.Duration(rapid.Int64Range(0, int64(most)).Draw(t, name))
		}
		lived, off, up := upTo("lived", time.Hour), upTo("off", 10*time.Hour), upTo("up", time.Hour)
		s.Advance(lived)
		s.Reboot(off)
		s.Advance(up)
		s.StepWall(upTo("off by", 3*time.Second) - 1500*time.Millisecond)
		truth := anchor.Elapsed + time.Duration(float64(lived+off+up)*factor)
		r, res := Resume(s, anchor, factor)
		if res.Certainty != Estimated || truth < res.Earliest || truth > res.Latest || res.Slept != 0 {
			t.Fatalf("%+v; the truth is %v", res, truth)
		}
		if res.Now.Elapsed < res.Earliest || res.Now.Elapsed > res.Latest || r.Mark().Elapsed != res.Now.Elapsed {
			t.Fatalf("estimate %v outside [%v, %v], or the clock says %v", res.Now.Elapsed, res.Earliest, res.Latest, r.Mark().Elapsed)
		}
		if off := (res.Now.Elapsed - truth).Abs(); off > time.Duration(factor*float64(2*time.Second)) {
			t.Fatalf("estimate is off by %v", off)
		}
	})
}

func TestResumeUnknown(t *testing.T) {
	reboot := func(wall time.Duration) (Mark, Source) {
		s := still()
		anchor := New(s, time.Minute, 1).Mark()
		s.Advance(time.Minute)
		s.Reboot(10 * time.Minute)
		s.Advance(3 * time.Minute)
		s.StepWall(wall)
		return anchor, s
	}
	for name, wall := range map[string]time.Duration{"years back": -20 * 365 * 24 * time.Hour, "an hour back": -time.Hour} {
		anchor, s := reboot(wall)
		_, res := Resume(s, anchor, 1)
		if res.Certainty != Unknown || res.Earliest != 4*time.Minute || res.Latest != Unbounded || res.Now.Elapsed != 4*time.Minute {
			t.Errorf("%s: %+v; expected 4 min at least", name, res)
		}
	}
	anchor, s := reboot(0)
	anchor.Wall = time.Time{}
	if _, res := Resume(s, anchor, 60); res.Certainty != Unknown || res.Latest != Unbounded {
		t.Errorf("no wall time: %+v", res)
	}
}

// A boot clock behind the anchor's is no same boot, and proves no lower bound.
func TestResumeClockBehind(t *testing.T) {
	s := still()
	s.Advance(time.Hour)
	anchor := New(s, time.Minute, 1).Mark()
	s.Advance(-30 * time.Minute)
	s.StepWall(30*time.Minute + 5*time.Second)
	_, res := Resume(s, anchor, 1)
	if res.Certainty == Exact || res.Earliest != time.Minute || res.Now.Elapsed != time.Minute+5*time.Second {
		t.Errorf("%+v; expected an estimate of 1m5s", res)
	}
}
