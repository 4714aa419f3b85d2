package live

// What taking up a long session costs.

import (
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
)

// hour is the journal of a session cut off after an hour of washing, its bath read
// each second and a heartbeat each five, and how long each record took to append.
func hour(t testing.TB, store journal.Store) (records int, took []time.Duration) {
	t.Helper()
	plan := tank(t)
	r := plan.Recipe
	r.Steps = slices.Clone(r.Steps)
	r.Steps[2].Time = 2 * time.Hour
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	state, err := engine.NewState(&p)
	if err != nil {
		t.Fatal(err)
	}
	system := clock.New(clock.System(), 0, 1)
	var w *journal.Writer
	keep := func(e sequence.Event) {
		mark := system.Mark()
		mark.Elapsed = e.At
		rec := journal.Record{Seq: records, Clock: mark, Event: e}
		if records++; w == nil {
			rec.Plan = &p
			if w, err = store.Create("tern", rec); err != nil {
				t.Fatal(err)
			}
			return
		}
		began := time.Now()
		if err := w.Append(rec); err != nil {
			t.Fatal(err)
		}
		took = append(took, time.Since(began))
	}
	do := func(c sequence.Command, at time.Duration) {
		for _, e := range engine.Decide(state, c, at) {
			state = engine.Apply(state, e)
			keep(e)
		}
	}
	do(sequence.Begin{ID: "tern", Version: "test"}, 0)
	for at := time.Second; at <= time.Hour; at += time.Second {
		do(sequence.TakeReading{T: 20, Source: sequence.BySensor}, at)
		if at%heartbeat == 0 {
			keep(sequence.Event{At: at, Kind: sequence.Heartbeat})
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return records, took
}

// takeUp reads, replays, takes up and records as taken up the session of an hour, and
// returns its records.
func takeUp(t testing.TB, store journal.Store) int {
	t.Helper()
	w, kept, err := store.TakeUp("tern")
	if err != nil {
		t.Fatal(err)
	}
	watch, _ := clock.Resume(clock.System(), kept.Anchor(), 1)
	s, err := Start(Options{Plan: kept.First().Plan, Clock: watch, Records: kept.Records, At: watch.Mark().Elapsed,
		FirstCommand: sequence.Resume{From: kept.Anchor().Elapsed}})
	if err != nil {
		t.Fatal(err)
	}
	s.KeepJournal(w)
	if !s.WaitUntilSaved(t.Context()) {
		t.Fatal("not recorded")
	}
	s.Close()
	return len(kept.Records)
}

func hourStore(t testing.TB) journal.Store {
	return journal.Store{Folders: []string{filepath.Join(t.TempDir(), "sessions")}}
}

// An hour's session is taken up whole, as often as it is cut off.
func TestAnHourIsTakenUp(t *testing.T) {
	store := hourStore(t)
	n, _ := hour(t, store)
	for range 2 {
		if got := takeUp(t, store); got < n {
			t.Fatalf("%d of %d records", got, n)
		}
	}
}

// BenchmarkTakeUp takes up the session of an hour; ns/append-p50 and -p99 are its
// records as they were kept.
func BenchmarkTakeUp(b *testing.B) {
	store := hourStore(b)
	_, took := hour(b, store)
	slices.Sort(took)
	for b.Loop() {
		takeUp(b, store)
	}
	b.ReportMetric(float64(took[len(took)/2]), "ns/append-p50")
	b.ReportMetric(float64(took[len(took)*99/100]), "ns/append-p99")
}
