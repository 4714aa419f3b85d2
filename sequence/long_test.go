package sequence

// What one beat of a session costs, however long its record is.

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// held is a session whose developer is held past its time, until it has n events.
func held(tb testing.TB, n int) (*session, Elapsed) {
	s := begun(tb, planOf(tb, twelve(), Conditions{}), 0)
	s.do(Hold{}, 300*sec)
	now := 300 * sec
	for ; len(s.events) < n; now += 10 * sec {
		s.do(Wake{}, now)
	}
	return s, now
}

// read is a session whose bath a sensor reads each second, until it has n events.
func read(tb testing.TB, n int) (*session, Elapsed) {
	s := begun(tb, planOf(tb, twelve(), Conditions{}), 0)
	s.do(Hold{}, 60*sec)
	now := 60 * sec
	for ; len(s.events) < n; now += sec {
		s.do(Read{T: 20, Source: BySensor}, now)
	}
	return s, now
}

// BenchmarkBeat is what the loop, the ear and a screen ask for in ten seconds of a
// session with so many events.
func BenchmarkBeat(b *testing.B) {
	for _, n := range []int{100, 1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("held/%d", n), func(b *testing.B) {
			s, now := held(b, n)
			b.ReportAllocs()
			for b.Loop() {
				s.do(Wake{}, now)
				s.s.Look(now)
				s.s.Ahead(now-3*sec, now+3*sec)
				now += 10 * sec
			}
		})
	}
	for _, n := range []int{100, 1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("read/%d", n), func(b *testing.B) {
			s, now := read(b, n)
			b.ReportAllocs()
			for b.Loop() {
				s.do(Read{T: 20, Source: BySensor}, now)
				s.s.Look(now)
				s.s.Ahead(now-3*sec, now+3*sec)
				now += sec
			}
		})
	}
}

// What a beat takes of the heap does not grow with the record.
func TestABeatCostsTheSameHoweverLongTheRecord(t *testing.T) {
	beat := func(s *session, c Command, now Elapsed) func() {
		return func() {
			s.do(c, now)
			s.s.Look(now)
		}
	}
	kept := map[string]func(n int) func(){
		"held": func(n int) func() { s, now := held(t, n); return beat(s, Wake{}, now) },
		"read": func(n int) func() { s, now := read(t, n); return beat(s, Read{T: 20, Source: BySensor}, now) },
	}
	for name, after := range kept {
		if little, much := heap(after(200)), heap(after(20_000)); much > 2*little {
			t.Errorf("%s: %d bytes after 200 records, %d after 20,000; expected about as many", name, little, much)
		}
	}
}

// Held for an hour, the hands go on in the rhythm of the bath, and "time is up" every
// ten seconds, whatever the film is in and whenever the program looks.
func TestHeldForAnHourInRhythm(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		every, dur := seconds(r, 15, 90, "every"), seconds(r, 1, 20, "for")
		bath := bathFor(Develop, seconds(r, 100, 400, "time")).agitated(periodic(seconds(r, 0, 60, "initial"), dur, every))
		rec := recipeOf(Drum, 2, bath, bathFor(Fix, 100*sec))
		rec.Load.ReverseEvery = seconds(r, 15, 60, "reverse")
		n := begun(t, planOf(t, rec, Conditions{}), 0)
		n.do(Hold{}, 10*sec)
		pause := seconds(r, 20, 2_000, "pause")
		for now := 10 * sec; now < 40*mins; now += pause {
			n.do(Wake{}, now)
		}
		due := n.s.moves.since
		expectEvery(r, n, CueOverdue, due+10*sec, 10*sec)
		expectEvery(r, n, CueReverse, rec.Load.ReverseEvery, rec.Load.ReverseEvery)
		if dur < every {
			first := due - due%every + every
			expectEvery(r, n, CueAgitate, first, every)
			expectEvery(r, n, CueRest, first+dur, every)
		}
	})
}

// expectEvery wants cues of a kind at first and every so often after it, to the end of
// the record; what comes before first is left alone.
func expectEvery(r *rapid.T, n *session, k CueKind, first, every Elapsed) {
	r.Helper()
	var got, want []Elapsed
	for _, e := range only(n.events, CueGiven) {
		if e.Cue == k && e.At >= first {
			got = append(got, e.At)
		}
	}
	for at := first; at <= n.s.At(); at += every {
		want = append(want, at)
	}
	if len(want) < 10 || !slices.Equal(got, want) {
		r.Fatalf("%s: %d times, expected %d; the first %v, expected %v", k, len(got), len(want), got[:min(4, len(got))], want[:4])
	}
}
