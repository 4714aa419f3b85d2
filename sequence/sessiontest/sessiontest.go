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
)

const (
	Second = time.Second
	Minute = time.Minute
)

// Evening is when the sessions of these tests begin.
var Evening = time.Date(2026, 11, 25, 19, 12, 0, 0, time.FixedZone("", 3600))

// Bath is a bath in the dark.
func Bath(k sequence.Kind, d sequence.Elapsed) sequence.Step {
	return sequence.Step{Name: string(k), Kind: k, Time: d, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Still}}
}

// Shuffled lets a step be turned.
func Shuffled(s sequence.Step) sequence.Step {
	s.Agitate.Mode = sequence.Shuffle
	return s
}

// Warmed gives a step a temperature: 20 C, and twice as fast for every 10 C.
func Warmed(s sequence.Step) sequence.Step {
	s.Temperature = &sequence.Temperature{At: 20, Coefficient: 2}
	return s
}

// Recipe is one of Saltmarsh harbour's.
func Recipe(v sequence.Vessel, sheets int, steps ...sequence.Step) sequence.Recipe {
	return sequence.Recipe{
		Title: "Plover 80 at Saltmarsh harbour", About: "Shuffled by hand while the tide is in.",
		Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, WetWarning: 3 * Minute,
			WetLimit: sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * Minute, sequence.Hangers: 60 * Minute}}},
		Load: sequence.Load{Vessel: v, Sheets: sheets, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5},
			LoadEvery: 15 * Second, ShuffleEvery: 10 * Second, TransferEvery: 10 * Second},
		Baths: []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "part A", Parts: 1}, {Name: "water", Parts: 60}}}},
		Steps: steps,
	}
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
	return Recipe(sequence.Tray, 6, Shuffled(Bath(sequence.Presoak, 2*Minute)), Warmed(Shuffled(Bath(sequence.Develop, 8*Minute))),
		Bath(sequence.StopBath, 30*Second), Bath(sequence.Fix, 5*Minute))
}
