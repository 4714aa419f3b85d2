package engine

// What one beat of a session costs, however long its record is.

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// held is a session whose developer is held past its time, until it has n events.
func held(tb testing.TB, n int) (*session, sequence.Elapsed) {
	s := begun(tb, planOf(tb, twelve(), sequence.Conditions{}), 0)
	s.do(sequence.Hold{}, 300*recipetest.Second)
	now := 300 * recipetest.Second
	for ; len(s.events) < n; now += 10 * recipetest.Second {
		s.do(sequence.Wake{}, now)
	}
	return s, now
}

// read is a session whose bath a sensor reads each second, until it has n events.
func read(tb testing.TB, n int) (*session, sequence.Elapsed) {
	s := begun(tb, planOf(tb, twelve(), sequence.Conditions{}), 0)
	s.do(sequence.Hold{}, 60*recipetest.Second)
	now := 60 * recipetest.Second
	for ; len(s.events) < n; now += recipetest.Second {
		s.do(sequence.TakeReading{T: 20, Source: sequence.BySensor}, now)
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
				s.do(sequence.Wake{}, now)
				s.s.Snapshot(now)
				s.s.Ahead(now-3*recipetest.Second, now+3*recipetest.Second)
				now += 10 * recipetest.Second
			}
		})
	}
	for _, n := range []int{100, 1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("read/%d", n), func(b *testing.B) {
			s, now := read(b, n)
			b.ReportAllocs()
			for b.Loop() {
				s.do(sequence.TakeReading{T: 20, Source: sequence.BySensor}, now)
				s.s.Snapshot(now)
				s.s.Ahead(now-3*recipetest.Second, now+3*recipetest.Second)
				now += recipetest.Second
			}
		})
	}
}

// What a beat takes of the heap does not grow with the record.
func TestABeatCostsTheSameHoweverLongTheRecord(t *testing.T) {
	beat := func(s *session, c sequence.Command, now sequence.Elapsed) func() {
		return func() {
			s.do(c, now)
			s.s.Snapshot(now)
		}
	}
	kept := map[string]func(n int) func(){
		"held": func(n int) func() { s, now := held(t, n); return beat(s, sequence.Wake{}, now) },
		"read": func(n int) func() {
			s, now := read(t, n)
			return beat(s, sequence.TakeReading{T: 20, Source: sequence.BySensor}, now)
		},
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
		every, dur := recipetest.Seconds(r, 15, 90, "every"), recipetest.Seconds(r, 1, 20, "for")
		bath := recipetest.Agitated(recipetest.Bath(sequence.Develop, recipetest.Seconds(r, 100, 400, "time")), recipetest.Periodic(recipetest.Seconds(r, 0, 60, "initial"), dur, every))
		rec := recipetest.Recipe(sequence.Drum, 2, bath, recipetest.Bath(sequence.Fix, 100*recipetest.Second))
		rec.Load.ReverseEvery = recipetest.Seconds(r, 15, 60, "reverse")
		n := begun(t, planOf(t, rec, sequence.Conditions{}), 0)
		n.do(sequence.Hold{}, 10*recipetest.Second)
		pause := recipetest.Seconds(r, 20, 2_000, "pause")
		for now := 10 * recipetest.Second; now < 40*recipetest.Minute; now += pause {
			n.do(sequence.Wake{}, now)
		}
		due := n.s.filmState.since
		expectEvery(r, n, sequence.CueOverdue, due+10*recipetest.Second, 10*recipetest.Second)
		expectEvery(r, n, sequence.CueReverse, rec.Load.ReverseEvery, rec.Load.ReverseEvery)
		if dur < every {
			first := due - due%every + every
			expectEvery(r, n, sequence.CueAgitate, first, every)
			expectEvery(r, n, sequence.CueStand, first+dur, every)
		}
	})
}

// expectEvery wants cues of a kind at first and every so often after it, to the end of
// the record; what comes before first is left alone.
func expectEvery(r *rapid.T, n *session, k sequence.CueKind, first, every sequence.Elapsed) {
	r.Helper()
	var got, want []sequence.Elapsed
	for _, e := range recipetest.EventsOf(n.events, sequence.CueGiven) {
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
