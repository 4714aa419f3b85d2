package live

// What taking up a long session costs.

import (
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

// hour is the journal of a session cut off after an hour of washing, its bath read
// each second and a heartbeat each five, and how long each record took to append.
func hour(t *testing.T, store journal.Store) (records int, took []time.Duration) {
	t.Helper()
	plan := tank(t)
	r := plan.Recipe
	r.Steps = slices.Clone(r.Steps)
	r.Steps[2].Time = 2 * time.Hour
	p, err := sequence.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	state, err := sequence.NewState(&p)
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
		for _, e := range sequence.Decide(state, c, at) {
			state = sequence.Apply(state, e)
			keep(e)
		}
	}
	do(sequence.Begin{ID: "tern", Version: "test"}, 0)
	for at := time.Second; at <= time.Hour; at += time.Second {
		do(sequence.Read{T: 20, Source: sequence.BySensor}, at)
		if at%heartbeat == 0 {
			keep(sequence.Event{At: at, Kind: sequence.Alive})
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return records, took
}

// takenUp is how soon a session of an hour goes on.
const takenUp = 50 * time.Millisecond

// An hour's session is read, replayed, taken up and recorded as taken up in time.
func TestAnHourIsTakenUpInTime(t *testing.T) {
	store := journal.Store{Folders: []string{filepath.Join(t.TempDir(), "sessions")}}
	n, took := hour(t, store)
	slices.Sort(took)
	t.Logf("%d records; one appended in %v (p50), %v (p99)", n, took[len(took)/2], took[len(took)*99/100])
	best := time.Hour
	for range 30 { // a busy machine may stall all but one
		began := time.Now()
		w, kept, err := store.Take("tern")
		if err != nil {
			t.Fatal(err)
		}
		watch, _ := clock.Resume(clock.System(), kept.Anchor(), 1)
		s, err := Start(Options{Plan: kept.First().Plan, Clock: watch, Records: kept.Records, At: watch.Mark().Elapsed,
			First: sequence.Resume{From: kept.Anchor().Elapsed}})
		if err != nil {
			t.Fatal(err)
		}
		s.Keep(store, "tern", w)
		if !s.Kept(t.Context()) {
			t.Fatal("not recorded")
		}
		best = min(best, time.Since(began))
		s.Close()
		if len(kept.Records) < n {
			t.Fatalf("%d of %d records", len(kept.Records), n)
		}
		if best < takenUp {
			t.Logf("taken up in %v", best)
			return
		}
	}
	t.Errorf("taken up in %v at best; want under %v", best, takenUp)
}
