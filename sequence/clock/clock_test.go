package clock

// Elapsed time against sleep, steps, steering, rehearsal and a lead.

import (
	"encoding/json"
	"math"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
)

// still is a simulated laptop whose time passes only by Advance.
func still() *Simulated {
	at := time.Date(2026, 11, 25, 19, 12, 0, 0, time.UTC)
	return NewSimulated(func() time.Time { return at })
}

func TestElapsed(t *testing.T) {
	for name, c := range map[string]struct {
		start  time.Duration
		factor float64
		after  func(*Simulated)
		want   time.Duration
	}{
		"awake":              {0, 1, func(s *Simulated) { s.Advance(time.Minute + 1) }, time.Minute + 1},
		"lead":               {-10 * time.Second, 1, func(s *Simulated) { s.Advance(4 * time.Second) }, -6 * time.Second},
		"asleep":             {0, 1, func(s *Simulated) { s.Advance(time.Second); s.Sleep(30 * time.Minute) }, 30*time.Minute + time.Second},
		"wall stepped":       {0, 1, func(s *Simulated) { s.StepWall(-5 * time.Hour); s.Advance(time.Second) }, time.Second},
		"steered by 1 %":     {0, 1, func(s *Simulated) { s.Slew(0.01); s.Advance(time.Hour) }, time.Hour},
		"steered and asleep": {0, 1, func(s *Simulated) { s.Slew(-0.01); s.Advance(time.Hour); s.Sleep(time.Hour) }, 2 * time.Hour},
		"rehearsal":          {-10 * time.Second, 60, func(s *Simulated) { s.Advance(time.Second) }, 50 * time.Second},
		"rehearsal, asleep":  {0, 60, func(s *Simulated) { s.Sleep(time.Second) }, time.Minute},
		"half speed":         {0, 0.5, func(s *Simulated) { s.Advance(time.Minute) }, 30 * time.Second},
		"factor 0":           {0, 0, func(s *Simulated) { s.Advance(time.Minute) }, time.Minute},
		"factor -2":          {0, -2, func(s *Simulated) { s.Advance(time.Minute) }, time.Minute},
		"factor infinite":    {0, math.Inf(1), func(s *Simulated) { s.Advance(time.Minute) }, time.Minute},
		"factor NaN":         {0, math.NaN(), func(s *Simulated) { s.Advance(time.Minute) }, time.Minute},
	} {
		s := still()
		r := New(s, c.start, c.factor)
		if got := r.Mark().Elapsed; got != c.start {
			t.Errorf("%s: begins at %v; expected %v", name, got, c.start)
		}
		c.after(s)
		if got := r.Mark().Elapsed; got != c.want {
			t.Errorf("%s: elapsed is %v; expected %v", name, got, c.want)
		}
	}
}

// Whatever happens to the wall clock, elapsed time is what has passed awake and
// asleep, and never runs backwards.
func TestElapsedIsTimePassed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := still()
		factor := rapid.SampledFrom([]float64{1, 2, 10, 60}).Draw(t, "factor")
		r := New(s, 0, factor)
		var passed, last time.Duration
		for range rapid.IntRange(1, 30).Draw(t, "n") {
			d := time.Duration(rapid.Int64Range(0, int64(3*time.Hour)).Draw(t, "d"))
			switch rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				s.Advance(d)
				passed += d
			case 1:
				s.Sleep(d)
				passed += d
			case 2:
				s.StepWall(d - time.Hour)
			}
			got := r.Mark().Elapsed
			if want := passed * time.Duration(factor); got != want || got < last {
				t.Fatalf("elapsed is %v after %v; expected %v", got, last, want)
			}
			last = got
		}
	})
}

// A source that reads a little backwards does not turn elapsed time back.
func TestElapsedNeverTurnsBack(t *testing.T) {
	s := still()
	r := New(s, 0, 1)
	s.Advance(time.Second)
	before := r.Mark().Elapsed
	s.Advance(-4 * time.Millisecond)
	if got := r.Mark().Elapsed; got != before {
		t.Errorf("elapsed went from %v to %v", before, got)
	}
	r.Set(200 * time.Millisecond)
	s.Advance(time.Millisecond)
	if got := r.Mark().Elapsed; got != 201*time.Millisecond {
		t.Errorf("elapsed is %v after being set", got)
	}
}

// A rehearsal passes over a stretch: forward only, and at its pace from there on.
func TestSkip(t *testing.T) {
	s := still()
	r := New(s, -10*time.Second, 2)
	s.Advance(10 * time.Second)
	r.Skip(5 * time.Minute)
	if got := r.Mark().Elapsed; got != 5*time.Minute {
		t.Errorf("elapsed is %v; expected 5 min", got)
	}
	r.Skip(4 * time.Minute)
	s.Advance(3 * time.Second)
	if got := r.Mark().Elapsed; got != 5*time.Minute+6*time.Second {
		t.Errorf("elapsed is %v; expected 5:06: nothing is gone back on", got)
	}
}

func TestUntil(t *testing.T) {
	s := still()
	r := New(s, -10*time.Second, 1)
	s.Advance(4 * time.Second)
	if got := r.Until(0); got != 6*time.Second {
		t.Errorf("%v until the first sheet in; expected 6 s", got)
	}
	if got := r.Until(-8 * time.Second); got != -2*time.Second {
		t.Errorf("%v until an instant that is past; expected -2 s", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		s := still()
		r := New(s, 0, rapid.Float64Range(0.1, 500).Draw(t, "factor"))
		target := time.Duration(rapid.Int64Range(1, int64(8*time.Hour)).Draw(t, "target"))
		s.Advance(r.Until(target))
		if late := r.Mark().Elapsed - target; late < 0 || float64(late) > r.factor+1 {
			t.Fatalf("%v ns after waiting until it, at factor %v", int64(late), r.factor)
		}
	})
}

func TestInABubble(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := Virtual(-time.Second, 10)
		<-time.After(c.Until(30 * time.Minute))
		if got := c.Mark().Elapsed; got != 30*time.Minute {
			t.Errorf("woken at %v; expected 30 min", got)
		}
		p := newProcess(7)
		before := p.Read()
		time.Sleep(time.Minute)
		if got := Passed(before, p.Read()); got != time.Minute {
			t.Errorf("a process of a minute measured %v", got)
		}
	})
}

func TestSystem(t *testing.T) {
	source := System()
	r := New(source, 0, 1)
	first, last := source.Read(), r.Mark()
	if first.Boot == "" || first.Boottime < 0 || first.CountsSleep() && first.Boottime == 0 || time.Since(first.Wall).Abs() > time.Minute {
		t.Errorf("reads %+v", first)
	}
	for range 20000 {
		m := r.Mark()
		if m.Elapsed < last.Elapsed || !SameBoot(last, m) {
			t.Fatalf("from %+v to %+v", last, m)
		}
		last = m
	}
	if step, jumped := Jumped(first, last); jumped {
		t.Errorf("wall clock is said to have jumped by %v", step)
	}
	if slept := Slept(first, last); slept != 0 {
		t.Errorf("said to have slept %v", slept)
	}
}

func TestSeveralGoroutines(t *testing.T) {
	s := NewSimulated(nil)
	r := New(s, 0, 1)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 500 {
				s.Sleep(time.Millisecond)
				r.Until(time.Hour)
			}
		})
	}
	all.Wait()
	if got := r.Mark().Elapsed; got < 2*time.Second {
		t.Errorf("elapsed is %v; expected 2 s of sleep at least", got)
	}
}

func TestMarkAsJSON(t *testing.T) {
	m := Mark{Boot: "b", Boottime: 3*time.Second + 1, Monotonic: 2 * time.Second, Raw: 2*time.Second - 1,
		Wall: time.Date(2026, 11, 25, 19, 12, 0, 5e6, time.FixedZone("", 3600)), Elapsed: -1500 * time.Millisecond}
	text, err := sequence.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	var keys map[string]any
	if err := json.Unmarshal(text, &keys); err != nil {
		t.Fatal(err)
	}
	if keys["boot"] != "b" || keys["boottime_s"] != 3.000000001 || keys["monotonic_s"] != 2.0 || keys["elapsed_s"] != -1.5 ||
		keys["wall"] != "2026-11-25T19:12:00.005+01:00" {
		t.Errorf("written as %s", text)
	}
	var back Mark
	if err := sequence.Unmarshal(text, &back); err != nil || !back.Wall.Equal(m.Wall) {
		t.Fatalf("%+v: %v", back, err)
	}
	back.Wall = m.Wall
	if back != m {
		t.Errorf("read back as %+v", back)
	}
}

func BenchmarkMark(b *testing.B) {
	r := New(System(), 0, 1)
	for b.Loop() {
		r.Mark()
	}
}
