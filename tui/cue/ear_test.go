package cue

import (
	"math"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

// player is a loudspeaker in virtual time: it pulls 10 ms every 10 ms, and what
// it pulls is heard after its latency.
type player struct {
	ear     *Ear
	latency time.Duration
	heard   [][2]float64
	from    time.Time // when the first frame was heard
}

func (p *player) play(d time.Duration) {
	if p.heard == nil {
		p.from = time.Now().Add(p.latency)
	}
	for ; d > 0; d -= 10 * time.Millisecond {
		frames := make([][2]float64, 441)
		p.ear.Pull(frames, time.Now().Add(p.latency))
		p.heard = append(p.heard, frames...)
		time.Sleep(10 * time.Millisecond)
	}
}

// instants are the onsets heard, as times since the player began.
func (p *player) instants(start time.Time) []time.Duration {
	var at []time.Duration
	for _, o := range onsets(p.heard) {
		at = append(at, p.from.Add(time.Duration(o)*time.Second/44100).Sub(start))
	}
	return at
}

// want fails unless onsets lie within 1 ms of these instants, and are as many.
func (p *player) want(t *testing.T, start time.Time, want ...time.Duration) {
	t.Helper()
	got := p.instants(start)
	if len(got) != len(want) {
		t.Fatalf("heard at %v, want %v", got, want)
	}
	for i := range want {
		if (got[i] - want[i]).Abs() > time.Millisecond {
			t.Errorf("heard at %v, want %v", got, want)
		}
	}
}

func counts(t *testing.T, e *Ear, begun, late, dropped int) {
	t.Helper()
	if b, l, d := e.Counts(); b != begun || l != late || d != dropped {
		t.Errorf("%d begun, %d late, %d dropped; want %d, %d, %d", b, l, d, begun, late, dropped)
	}
}

// at is a cue of one note, so that one onset is one cue.
func at(d time.Duration) sequence.Cue {
	return sequence.Cue{At: d, Kind: sequence.CueShuffle, Step: "fix"}
}

const second = time.Second

// inBubble runs a test in virtual time with a clock at elapsed 0.
func inBubble(t *testing.T, latency time.Duration, test func(*testing.T, *player, time.Time)) {
	synctest.Test(t, func(t *testing.T) {
		test(t, &player{ear: NewEar(clock.Virtual(0, 1)), latency: latency}, time.Now())
	})
}

func TestCueIsHeardAtItsInstantWhateverTheLatency(t *testing.T) {
	for _, latency := range []time.Duration{-250 * time.Millisecond, 0, 100 * time.Millisecond, 1300 * time.Millisecond} {
		inBubble(t, latency, func(t *testing.T, p *player, start time.Time) {
			p.ear.Schedule([]sequence.Cue{at(2 * second), at(2718281828 * time.Nanosecond)})
			p.play(4 * second)
			p.want(t, start, 2*second, 2718281828)
			counts(t, p.ear, 2, 0, 0)
		})
	}
}

func TestLatencyThatChangesIsFollowed(t *testing.T) {
	inBubble(t, 50*time.Millisecond, func(t *testing.T, p *player, start time.Time) {
		p.ear.Schedule([]sequence.Cue{at(2 * second)})
		p.play(second)
		p.latency += 400 * time.Millisecond // the device needs more from now on
		p.play(2 * second)
		// the frames of that moment are heard 0.4 s later than their number says
		p.want(t, start, 2*second-400*time.Millisecond)
	})
}

func TestEachCueIsHeardOnceHoweverOftenItIsScheduled(t *testing.T) {
	inBubble(t, 100*time.Millisecond, func(t *testing.T, p *player, start time.Time) {
		for i := range 40 {
			wobble := time.Duration(i%3) * time.Microsecond // computed anew, rounded otherwise
			p.ear.Schedule([]sequence.Cue{at(2*second + wobble), at(2*second + wobble)})
			p.play(100 * time.Millisecond)
		}
		p.want(t, start, 2*second)
		counts(t, p.ear, 1, 0, 0)
	})
}

func TestSameKindOfAnotherSheetOrStepIsAnotherCue(t *testing.T) {
	inBubble(t, 0, func(t *testing.T, p *player, _ time.Time) {
		two := at(second)
		two.Sheet = 2
		rinse := at(second)
		rinse.Step = "rinse"
		p.ear.Schedule([]sequence.Cue{at(second), two, rinse})
		p.play(2 * second)
		counts(t, p.ear, 3, 0, 0)
	})
}

func TestCueIsMovedAndWithdrawnBeforeItBegins(t *testing.T) {
	inBubble(t, 100*time.Millisecond, func(t *testing.T, p *player, start time.Time) {
		p.ear.Schedule([]sequence.Cue{at(2 * second), at(2500 * time.Millisecond)})
		p.play(1500 * time.Millisecond)
		p.ear.Schedule([]sequence.Cue{at(2200 * time.Millisecond)})
		p.play(2 * second)
		p.want(t, start, 2200*time.Millisecond)
	})
}

// A WAV file gets its frames a little after their time. What fell due meanwhile
// is in it, although the engine speaks only of what is to come.
func TestPastCueIsNotWithdrawn(t *testing.T) {
	inBubble(t, -250*time.Millisecond, func(t *testing.T, p *player, start time.Time) {
		p.ear.Schedule([]sequence.Cue{at(second)})
		p.play(1100 * time.Millisecond)
		p.ear.Schedule([]sequence.Cue{at(1600 * time.Millisecond)})
		p.play(second)
		p.want(t, start, second, 1600*time.Millisecond)
	})
}

func TestLateCueIsHeardAtOnce(t *testing.T) {
	inBubble(t, 100*time.Millisecond, func(t *testing.T, p *player, start time.Time) {
		p.play(second)
		p.ear.Schedule([]sequence.Cue{at(second)}) // now, but the device needs 100 ms
		p.play(second)
		p.want(t, start, 1100*time.Millisecond)
		counts(t, p.ear, 1, 1, 0)
	})
}

// A sound server that is away for two seconds makes a cue late; one that is
// away for longer loses it rather than giving a wrong signal.
func TestCueAcrossAnOutage(t *testing.T) {
	inBubble(t, 0, func(t *testing.T, p *player, start time.Time) {
		p.ear.Schedule([]sequence.Cue{at(second), at(4 * second)})
		p.play(100 * time.Millisecond)
		time.Sleep(4500 * time.Millisecond) // no pulls
		p.play(second)
		counts(t, p.ear, 1, 1, 1)
	})
}

func TestRestIsMergedIntoACueOfTheSameInstant(t *testing.T) {
	rest := sequence.Cue{At: second, Kind: sequence.CueStand, Step: "fix"}
	inBubble(t, 0, func(t *testing.T, p *player, _ time.Time) {
		p.ear.Schedule([]sequence.Cue{rest, at(second)})
		p.play(2 * second)
		counts(t, p.ear, 1, 0, 0)
	})
	inBubble(t, 0, func(t *testing.T, p *player, _ time.Time) {
		p.ear.Schedule([]sequence.Cue{rest, at(2 * second)})
		p.play(3 * second)
		counts(t, p.ear, 2, 0, 0)
	})
}

func TestPlayIsHeardAtOnceAndOutlivesSchedule(t *testing.T) {
	inBubble(t, 100*time.Millisecond, func(t *testing.T, p *player, start time.Time) {
		p.play(second)
		p.ear.Play(sequence.CueShuffle)
		p.ear.Schedule(nil)
		p.play(second)
		p.want(t, start, 1100*time.Millisecond)
	})
}

// During the lead elapsed time is negative: an answer has no instant that is to come.
func TestPlayIsHeardDuringTheLead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := &player{ear: NewEar(clock.Virtual(-10*second, 1))}
		start := time.Now()
		p.ear.Play(sequence.CueShuffle)
		p.ear.Schedule(nil)
		p.play(second)
		p.want(t, start, 0)
	})
}

func TestLeftIsTheTimeUntilAllHasBeenHeard(t *testing.T) {
	inBubble(t, 100*time.Millisecond, func(t *testing.T, p *player, _ time.Time) {
		left := func(want time.Duration) {
			t.Helper()
			if got := p.ear.Remaining(); (got - want).Abs() > time.Millisecond {
				t.Errorf("%v left, want %v", got, want)
			}
		}
		left(0)
		p.ear.Schedule([]sequence.Cue{{At: 2 * second, Kind: sequence.CueDone}}) // 1.79 s long
		left(3790 * time.Millisecond)
		p.play(3 * second)
		left(790 * time.Millisecond)
		p.play(second)
		left(0)
		p.ear.Play(sequence.CueDone)
		left(1790 * time.Millisecond)
	})
}

func TestRehearsalPlacesCuesInRealTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := &player{ear: NewEar(clock.Virtual(-30*second, 20))}
		start := time.Now()
		p.ear.Schedule([]sequence.Cue{at(0), at(40 * second)})
		p.play(4 * second)
		p.want(t, start, 1500*time.Millisecond, 3500*time.Millisecond)
	})
}

// After laptop sleep, what was to come before it is long past.
func TestCueAcrossLaptopSleepIsDropped(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		source := clock.NewSimulated(nil)
		p := &player{ear: NewEar(clock.New(source, 0, 1))}
		p.ear.Schedule([]sequence.Cue{at(2 * second)})
		p.play(second)
		source.Sleep(30 * time.Minute)
		p.play(3 * second)
		counts(t, p.ear, 0, 0, 1)
		for _, s := range p.heard {
			if math.Abs(s[0]) > 0 {
				t.Fatal("a cue of before the sleep was heard after it")
			}
		}
	})
}

func TestEngineAndSinkAtTheSameTime(t *testing.T) {
	e := NewEar(clock.New(clock.NewSimulated(nil), 0, 1))
	var group sync.WaitGroup
	group.Go(func() {
		for i := range time.Duration(300) {
			e.Schedule([]sequence.Cue{at(i * time.Millisecond), at(i*time.Millisecond + second)})
		}
	})
	group.Go(func() {
		frames := make([][2]float64, 441)
		for range 300 {
			e.Pull(frames, time.Now())
		}
	})
	group.Go(func() {
		for range 300 {
			e.Remaining()
			e.Counts()
		}
	})
	group.Wait()
}
