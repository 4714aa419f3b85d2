// Package recordtest is a notebook for the tests of the screens that show it: Saltmarsh
// harbour's sessions, kept in a temporary folder as the program keeps them, and the backend
// that those screens need.
package recordtest

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/screen"
)

// Backend is the notebook in its folder.
type Backend struct {
	Store    journal.Store
	Readings []densities.ReadingsFile
	Taught   *film.Learnt
	Fails    error // what writing comes to
}

func (b *Backend) Sessions() []notebook.Summary { return notebook.List(b.Store) }
func (b *Backend) ArchivedSessions() []notebook.Summary {
	return notebook.List(notebook.ArchivedStore(b.Store))
}
func (b *Backend) Read(id string) (notebook.Session, error) {
	s, err := notebook.Open(b.Store, id)
	if s.Path == "" && err != nil {
		s, err = notebook.Open(notebook.ArchivedStore(b.Store), id)
	}
	if s.Path != "" {
		s.Path = "/home/saltmarsh/.local/state/wetside/sessions/" + id + ".jsonl"
	}
	return s, err
}
func (b *Backend) Note(id string, n notebook.Note) error {
	if b.Fails != nil {
		return b.Fails
	}
	return notebook.AddNote(b.Store, id, n)
}
func (b *Backend) Learnt(string) *film.Learnt          { return b.Taught }
func (b *Backend) Archive(id string) error             { return notebook.Archive(b.Store, id) }
func (b *Backend) Restore(id string) error             { return notebook.Restore(b.Store, id) }
func (b *Backend) Densities() []densities.ReadingsFile { return b.Readings }

// The sessions of Kept: a stack that was warmer than planned and had a note, one in hangers
// that was ended early, a rehearsal, a stack as planned.
const (
	Warm      = "2024-05-01T2000-plover-80"
	Early     = "2024-05-02T2000-tern-125"
	Rehearsal = "2024-05-03T2000-plover-80"
	Good      = "2024-05-04T2000-plover-80"
)

// Now is when the tests look at them.
var Now = time.Date(2024, 5, 6, 9, 30, 0, 0, time.UTC)

// Env is that of a person without settings.
func Env() screen.Env { return screen.Env{Now: func() time.Time { return Now }} }

// Empty is a notebook without a session.
func Empty(t testing.TB) *Backend {
	return &Backend{Store: journal.Store{Folders: []string{filepath.Join(t.TempDir(), "state", "sessions")}, Disk: sessiontest.QuickDisk{}}}
}

// Kept is a notebook of four sessions, each a day after the one before.
func Kept(t testing.TB) *Backend {
	t.Helper()
	b := Empty(t)
	keep(t, b, 0, "plover-tray", 0, func(k *keeping) {
		k.do(3*time.Minute, sequence.TakeReading{T: 22.8})
		k.do(4*time.Minute, sequence.AddNote{Text: "the third sheet stuck"})
		k.finish()
	})
	keep(t, b, 24*time.Hour, "tern-hangers", 0, func(k *keeping) { k.do(9*time.Minute, sequence.EndSession{}) })
	keep(t, b, 48*time.Hour, "plover-tray", 30, (*keeping).finish)
	keep(t, b, 72*time.Hour, "plover-tray", 0, (*keeping).finish)
	return b
}

// Damage breaks the record of a session near its end, and puts a file beside it that is none.
func Damage(t testing.TB, b *Backend, id string) {
	t.Helper()
	path := filepath.Join(b.Store.Folders[0], id+".jsonl")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.SplitAfter(text, []byte{'\n'})
	lines[len(lines)-4][20] ^= 1
	for name, text := range map[string][]byte{path: bytes.Join(lines, nil), filepath.Join(b.Store.Folders[0], NoRecord+".jsonl"): []byte("tide table\n")} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// NoRecord is the session whose file is none.
const NoRecord = "2024-05-05T0900-knot"

// keeping is a session while it is carried out and kept.
type keeping struct {
	t     testing.TB
	w     *journal.Writer
	state engine.State
	wall  time.Time
	seq   int
}

func keep(t testing.TB, b *Backend, after time.Duration, recipe string, factor float64, carry func(*keeping)) {
	t.Helper()
	r, err := recipes.Find(recipe, "")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	k := &keeping{t: t, wall: time.Date(2024, 5, 1, 20, 0, 0, 0, time.UTC).Add(after)}
	if k.state, err = engine.NewState(&plan); err != nil {
		t.Fatal(err)
	}
	id := b.Store.NewID(k.wall, r.Film.Name)
	begun := engine.Decide(k.state, sequence.Begin{ID: id}, 0)
	k.w, err = b.Store.Create(id, journal.Record{Plan: &plan, Rehearsal: factor, Clock: clock.Mark{Wall: k.wall}, Event: begun[0]})
	if err != nil {
		t.Fatal(err)
	}
	k.state, k.seq = engine.Apply(k.state, begun[0]), 1
	k.keep(begun[1:], 0)
	carry(k)
	if err := k.w.Close(); err != nil {
		t.Fatal(err)
	}
}

func (k *keeping) keep(events []sequence.Event, now time.Duration) {
	for _, e := range events {
		mark := clock.Mark{Elapsed: now, Wall: k.wall.Add(now)}
		if err := k.w.Append(journal.Record{Seq: k.seq, Event: e, Clock: mark}); err != nil {
			k.t.Fatal(err)
		}
		k.state = engine.Apply(k.state, e)
		k.seq++
	}
}

// do asks something at a moment, after all that is due until then.
func (k *keeping) do(now time.Duration, c sequence.Command) {
	for at, due := k.state.Due(); due && at < now; at, due = k.state.Due() {
		k.keep(engine.Decide(k.state, sequence.Wake{}, at), at)
	}
	k.keep(engine.Decide(k.state, c, now), now)
}

// finish lets all that is left happen by itself; where a hand is waited for it comes at once.
func (k *keeping) finish() {
	for at, due := k.state.Due(); due && k.state.Over() == ""; at, due = k.state.Due() {
		k.keep(engine.Decide(k.state, sequence.Wake{}, at), at)
	}
}
