package cue

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/faiface/beep"

	"example.org/wetside/sequence"
)

// step streams a constant for so many frames: its onset is exact.
func step(x float64, length int) beep.Streamer {
	return beep.Take(length, beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		for i := range samples {
			samples[i] = [2]float64{x, x}
		}
		return len(samples), true
	}))
}

// pull takes so many frames from a timeline in portions of these sizes, in turn.
func pull(t *Timeline, frames int, sizes ...int) [][2]float64 {
	out := make([][2]float64, frames)
	for at, i := 0, 0; at < frames; i++ {
		n := min(sizes[i%len(sizes)], frames-at)
		t.Stream(out[at : at+n])
		at += n
	}
	return out
}

func TestOnsetsAreExactInOddSizedPulls(t *testing.T) {
	places := []int64{0, 1, 4409, 4410, 4411, 44100, 60001, 99999}
	for _, sizes := range [][]int{{100_000}, {1}, {441}, {512, 1, 511}, {7, 1009, 2, 333}} {
		var line Timeline
		for i, p := range places {
			line.Add(p, step(0.001*float64(i+1), 10))
		}
		got := pull(&line, 100_000, sizes...)
		for frame := range got {
			want := 0.0
			for i, p := range places {
				if int64(frame) >= p && int64(frame) < p+10 {
					want += 0.001 * float64(i+1)
				}
			}
			if math.Abs(got[frame][0]-want) > 1e-15 || got[frame][0] != got[frame][1] {
				t.Fatalf("pulls of %v: frame %d is %v, want %v on both sides", sizes, frame, got[frame], want)
			}
		}
		if line.Next() != 100_000 {
			t.Errorf("next frame %d, want 100000", line.Next())
		}
	}
}

func TestPortionsDoNotChangeWhatIsHeard(t *testing.T) {
	compose := func() *Timeline {
		var line Timeline
		for i, kind := range sequence.CueKinds {
			line.Add(int64(i)*30011, Sound(kind))
			line.Add(int64(i)*30011+7000, Sound(sequence.CueShuffle))
		}
		return &line
	}
	whole := pull(compose(), 700_000, 700_000)
	random := rand.New(rand.NewPCG(1, 2))
	for range 3 {
		sizes := make([]int, 1000)
		for i := range sizes {
			sizes[i] = 1 + random.IntN(3000)
		}
		parts := pull(compose(), 700_000, sizes...)
		for i := range whole {
			if math.Abs(whole[i][0]-parts[i][0]) > 1e-14 {
				t.Fatalf("frame %d is %v in portions, %v as a whole", i, parts[i][0], whole[i][0])
			}
		}
	}
}

func TestOverlappingCuesDoNotClip(t *testing.T) {
	var line Timeline
	for _, kind := range sequence.CueKinds {
		line.Add(100, Sound(kind))
	}
	peak := 0.0
	for _, s := range pull(&line, 150_000, 1000) {
		peak = max(peak, math.Abs(s[0]))
	}
	if peak < 0.9 || peak >= 1 {
		t.Errorf("greatest sample of all cues at once %v, want 0.9 to 1", peak)
	}
}

func TestReplaceLeavesAloneWhatHasBegun(t *testing.T) {
	var line Timeline
	line.Add(10, step(0.1, 100))
	line.Add(200, step(0.2, 100))
	head := pull(&line, 50, 50)
	line.Replace([]*Placing{{Frame: 300, Sound: step(0.3, 100)}})
	all := append(head, pull(&line, 450, 77)...)
	for frame, want := range map[int]float64{9: 0, 10: 0.1, 109: 0.1, 110: 0, 200: 0, 299: 0, 300: 0.3, 399: 0.3, 400: 0} {
		if all[frame][0] != want {
			t.Errorf("frame %d is %v, want %v", frame, all[frame][0], want)
		}
	}
}

func TestLateIsCountedAndVeryLateIsDropped(t *testing.T) {
	var line Timeline
	pull(&line, 200_000, 4410)
	line.Add(200_000-44, step(0.1, 1))      // 1 ms: not worth telling
	line.Add(200_000-45, step(0.01, 1))     // late
	line.Add(200_000-132_300, step(0.1, 1)) // late by 3 s exactly
	line.Add(200_000-132_301, step(0.5, 1)) // dropped
	got := pull(&line, 2, 2)
	if math.Abs(got[0][0]-0.21) > 1e-12 || got[1][0] != 0 {
		t.Errorf("heard %v, want the three that are not dropped at once", got)
	}
	if late, dropped := line.Counts(); late != 2 || dropped != 1 {
		t.Errorf("%d late, %d dropped; want 2 and 1", late, dropped)
	}
}

func TestTimelineFromSeveralGoroutines(t *testing.T) {
	var line Timeline
	var group sync.WaitGroup
	group.Go(func() {
		for i := range int64(500) {
			line.Replace([]*Placing{{Frame: 40*i + 100, Sound: step(0.1, 1)}})
		}
	})
	group.Go(func() { pull(&line, 50_000, 97) })
	group.Go(func() {
		for range 100 {
			line.Add(49_000, step(0.1, 1))
			line.Counts()
		}
	})
	group.Wait()
	if next := line.Next(); next != 50_000 {
		t.Errorf("next frame %d, want 50000", next)
	}
}

func TestRenderPlacesCuesAndMergesRest(t *testing.T) {
	samples := Render([]sequence.Cue{{At: 1e9, Kind: "rest"}, {At: 1e9, Kind: "turn"}, {At: 2e9, Kind: "rest"}}, 3e9)
	if len(samples) != 3*44100 {
		t.Fatalf("%d frames for 3 s", len(samples))
	}
	got := onsets(samples)
	if len(got) != 2 || !slices.IsSortedFunc(got, func(a, b int64) int { return int(a - b) }) {
		t.Fatalf("onsets %v, want two", got)
	}
	if f := fundamental(samples[got[0]+600:]); math.Abs(f-494) > 1 {
		t.Errorf("the first sound is %.1f Hz, want the turn's 494", f)
	}
	if f := fundamental(samples[got[1]+600:]); math.Abs(f-196) > 1 {
		t.Errorf("the second sound is %.1f Hz, want the rest's 196", f)
	}
}
