// Package sessiontest is sessions for tests, decided and applied as the program does it and
// kept in a temporary folder. For tests alone.
package sessiontest

import (
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// Evening is when the sessions of these tests begin.
var Evening = time.Date(2026, 11, 25, 19, 12, 0, 0, time.FixedZone("", 3600))

// Warmed gives a step a temperature: 20 C, and twice as fast for every 10 C.
func Warmed(s sequence.Step) sequence.Step { return recipetest.At(s, 20, 2) }

// Recipe is one of Saltmarsh harbour's.
func Recipe(v sequence.Vessel, sheets int, steps ...sequence.Step) sequence.Recipe {
	r := recipetest.Recipe(v, sheets, steps...)
	r.About = "Shuffled by hand while the tide is in."
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * time.Minute, sequence.Hangers: time.Hour}
	r.Baths = []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "part A", Parts: 1}, {Name: "water", Parts: 60}}}}
	return r
}

// Session is a session while it is carried out and kept.
type Session struct {
	t     testing.TB
	Id    string
	W     *journal.Writer
	State engine.State
	First journal.Record
	seq   int
	Now   sequence.Elapsed
}

// Begin begins a session at evening, plus so long.
func Begin(t testing.TB, store journal.Store, after time.Duration, r sequence.Recipe, c sequence.Conditions) *Session {
	t.Helper()
	return BeginAs(t, store, after, r, c, 0)
}

// BeginAs is sit, as a rehearsal of so many times as fast; 0 for none.
func BeginAs(t testing.TB, store journal.Store, after time.Duration, r sequence.Recipe, c sequence.Conditions, factor float64) *Session {
	t.Helper()
	plan, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatal(err)
	}
	state, err := engine.NewState(&plan)
	if err != nil {
		t.Fatal(err)
	}
	began := Evening.Add(after)
	s := &Session{t: t, State: state, Id: store.NewID(began, r.Film.Name)}
	s.First = journal.Record{Plan: &plan, Rehearsal: factor, Clock: clock.Mark{Wall: began}}
	begun := engine.Decide(state, sequence.Begin{ID: s.Id, Version: "test"}, 0)
	s.First.Event = begun[0]
	if s.W, err = store.Create(s.Id, s.First); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.W.Close() })
	s.State, s.seq = engine.Apply(s.State, begun[0]), 1
	s.Append(begun[1:])
	return s
}

func (s *Session) Append(events []sequence.Event) {
	s.t.Helper()
	for _, e := range events {
		r := journal.Record{Seq: s.seq, Event: e, Clock: clock.Mark{Elapsed: s.Now, Wall: s.First.Clock.Wall.Add(s.Now)}}
		if err := s.W.Append(r); err != nil {
			s.t.Fatal(err)
		}
		s.State = engine.Apply(s.State, e)
		s.seq++
	}
}

// Do asks something at a moment, as the loop does.
func (s *Session) Do(c sequence.Command, now sequence.Elapsed) {
	s.t.Helper()
	s.Now = now
	s.Append(engine.Decide(s.State, c, now))
}

// Finish lets everything that is left happen by itself.
func (s *Session) Finish() string {
	s.t.Helper()
	for at, due := s.State.Due(); due && s.State.Over() == ""; at, due = s.State.Due() {
		s.Do(sequence.Wake{}, at)
	}
	if s.State.Over() == "" {
		s.t.Fatal("the session does not end")
	}
	return s.Close()
}

// Close leaves the session as it is: open, unless it is over.
func (s *Session) Close() string {
	s.t.Helper()
	if err := s.W.Close(); err != nil {
		s.t.Fatal(err)
	}
	return s.Id
}

// NewStore is a store with folders of its own. A temporary folder is below one
// where everybody may write; two levels down it counts as private.
func NewStore(t testing.TB) journal.Store {
	t.Helper()
	dir := t.TempDir()
	return journal.Store{Folders: []string{filepath.Join(dir, "state", "sessions"), filepath.Join(dir, "run", "sessions")}, Disk: QuickDisk{}}
}

// QuickDisk is the computer's disk without waiting for it.
type QuickDisk struct{ journal.System }

func (q QuickDisk) Create(folder, name string) (journal.File, error) {
	f, err := q.System.Create(folder, name)
	return unsynced{f}, err
}

func (q QuickDisk) Open(folder, name string) (journal.File, error) {
	f, err := q.System.Open(folder, name)
	return unsynced{f}, err
}

func (QuickDisk) SyncFolder(string) error { return nil }

type unsynced struct{ journal.File }

func (unsynced) Sync() error { return nil }

// SixInTray shuffled sheets, developed at 20 C for eight minutes.
func SixInTray() sequence.Recipe {
	bath, shuffled := recipetest.Bath, recipetest.Shuffled
	return Recipe(sequence.Tray, 6, shuffled(bath(sequence.Presoak, 2*time.Minute)), Warmed(shuffled(bath(sequence.Develop, 8*time.Minute))),
		bath(sequence.StopBath, 30*time.Second), bath(sequence.Fix, 5*time.Minute))
}
