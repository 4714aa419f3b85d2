package notebook

// Sessions for the tests: decided and applied as the program does it, kept in a
// store in a temporary folder.

import (
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

const (
	sec  = time.Second
	mins = time.Minute
)

// evening is when the sessions of these tests begin.
var evening = time.Date(2026, 11, 25, 19, 12, 0, 0, time.FixedZone("", 3600))

// step is a bath in the dark.
func step(k sequence.Kind, d sequence.Elapsed) sequence.Step {
	return sequence.Step{Name: string(k), Kind: k, Time: d, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.AtRest}}
}

// shuffled lets a step be turned.
func shuffled(s sequence.Step) sequence.Step {
	s.Agitate.Mode = sequence.Shuffle
	return s
}

// warmed gives a step a temperature: 20 C, and twice as fast for every 10 C.
func warmed(s sequence.Step) sequence.Step {
	s.Temperature = &sequence.Temperature{At: 20, Coefficient: 2}
	return s
}

// recipe is one of Saltmarsh harbour's.
func recipe(v sequence.Vessel, sheets int, steps ...sequence.Step) sequence.Recipe {
	return sequence.Recipe{
		Title: "Plover 80 at Saltmarsh harbour", About: "Shuffled by hand while the tide is in.",
		Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, WetWarning: 3 * mins,
			WetLimit: sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * mins, sequence.Hangers: 60 * mins}}},
		Load: sequence.Load{Vessel: v, Sheets: sheets, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5},
			LoadEvery: 15 * sec, TurnEvery: 10 * sec, MoveEvery: 10 * sec},
		Baths: []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "part A", Parts: 1}, {Name: "water", Parts: 60}}}},
		Steps: steps,
	}
}

// sitting is a session while it is carried out and kept.
type sitting struct {
	t     testing.TB
	id    string
	w     *journal.Writer
	state sequence.State
	first journal.Record
	seq   int
	now   sequence.Elapsed
}

// sit begins a session at evening, plus so long.
func sit(t testing.TB, store journal.Store, after time.Duration, r sequence.Recipe, c sequence.Conditions) *sitting {
	t.Helper()
	return sitAs(t, store, after, r, c, 0)
}

// sitAs is sit, as a rehearsal of so many times as fast; 0 for none.
func sitAs(t testing.TB, store journal.Store, after time.Duration, r sequence.Recipe, c sequence.Conditions, factor float64) *sitting {
	t.Helper()
	plan, err := sequence.Resolve(r, c)
	if err != nil {
		t.Fatal(err)
	}
	state, err := sequence.NewState(&plan)
	if err != nil {
		t.Fatal(err)
	}
	began := evening.Add(after)
	s := &sitting{t: t, state: state, id: store.NewID(began, r.Film.Name)}
	s.first = journal.Record{Plan: &plan, Rehearsal: factor, Clock: clock.Mark{Wall: began}}
	begun := sequence.Decide(state, sequence.Begin{ID: s.id, Version: "test"}, 0)
	s.first.Event = begun[0]
	if s.w, err = store.Create(s.id, s.first); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.w.Close() })
	s.state, s.seq = sequence.Apply(s.state, begun[0]), 1
	s.keep(begun[1:])
	return s
}

func (s *sitting) keep(events []sequence.Event) {
	s.t.Helper()
	for _, e := range events {
		r := journal.Record{Seq: s.seq, Event: e, Clock: clock.Mark{Elapsed: s.now, Wall: s.first.Clock.Wall.Add(s.now)}}
		if err := s.w.Append(r); err != nil {
			s.t.Fatal(err)
		}
		s.state = sequence.Apply(s.state, e)
		s.seq++
	}
}

// do asks something at a moment, as the loop does.
func (s *sitting) do(c sequence.Command, now sequence.Elapsed) {
	s.t.Helper()
	s.now = now
	s.keep(sequence.Decide(s.state, c, now))
}

// finish lets everything that is left happen by itself.
func (s *sitting) finish() string {
	s.t.Helper()
	for at, due := s.state.Due(); due && s.state.Over() == ""; at, due = s.state.Due() {
		s.do(sequence.Wake{}, at)
	}
	if s.state.Over() == "" {
		s.t.Fatal("the session does not end")
	}
	return s.close()
}

// close leaves the session as it is: open, unless it is over.
func (s *sitting) close() string {
	s.t.Helper()
	if err := s.w.Close(); err != nil {
		s.t.Fatal(err)
	}
	return s.id
}

// newStore is a store with folders of its own. A temporary folder is below one
// where everybody may write; two levels down it counts as private.
func newStore(t testing.TB) journal.Store {
	t.Helper()
	dir := t.TempDir()
	return journal.Store{Folders: []string{filepath.Join(dir, "state", "sessions"), filepath.Join(dir, "run", "sessions")}, Disk: quick{}}
}

// quick is the computer's disk without waiting for it.
type quick struct{ journal.System }

func (q quick) Create(folder, name string) (journal.File, error) {
	f, err := q.System.Create(folder, name)
	return unsynced{f}, err
}

func (q quick) Open(folder, name string) (journal.File, error) {
	f, err := q.System.Open(folder, name)
	return unsynced{f}, err
}

func (quick) SyncFolder(string) error { return nil }

type unsynced struct{ journal.File }

func (unsynced) Sync() error { return nil }

func opened(t testing.TB, store journal.Store, id string) Session {
	t.Helper()
	s, err := Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
