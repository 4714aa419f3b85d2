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
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
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
	return &Backend{Store: sessiontest.NewStore(t)}
}

// Kept is a notebook of four sessions, each a day after the one before.
func Kept(t testing.TB) *Backend {
	t.Helper()
	b := Empty(t)
	noted := begin(t, b, 0, "plover-tray", 0)
	noted.Do(sequence.TakeReading{T: 22.8}, 3*time.Minute)
	noted.Do(sequence.AddNote{Text: "the third sheet stuck"}, 4*time.Minute)
	noted.Finish()
	early := begin(t, b, 24*time.Hour, "tern-hangers", 0)
	early.Do(sequence.EndSession{}, 9*time.Minute)
	early.Close()
	begin(t, b, 48*time.Hour, "plover-tray", 30).Finish()
	begin(t, b, 72*time.Hour, "plover-tray", 0).Finish()
	return b
}

// begin begins a session of a shipped recipe at eight in the evening of the first day, plus so long.
func begin(t testing.TB, b *Backend, after time.Duration, recipe string, factor float64) *sessiontest.Session {
	t.Helper()
	r, err := recipes.Find(recipe, "")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2024, 5, 1, 20, 0, 0, 0, sessiontest.Evening.Location()).Add(after)
	return sessiontest.BeginAs(t, b.Store, at.Sub(sessiontest.Evening), r, sequence.Conditions{}, factor)
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
