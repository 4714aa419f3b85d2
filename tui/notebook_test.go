package tui

// The notebook's screens over a store in a temporary folder, kept as the program
// keeps it.

import (
	"bytes"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
)

func (h *hall) Sessions() []notebook.Summary { return notebook.List(h.store) }

func (h *hall) Read(id string) (notebook.Session, error) {
	s, err := notebook.Open(h.store, id)
	s.Path = "/home/saltmarsh/.local/state/wetside/sessions/" + id + ".jsonl"
	return s, err
}

func (h *hall) Note(id string, n notebook.Note) error { return notebook.AddNote(h.store, id, n) }

// kept is a notebook of three sessions, each a day after the one before: a stack that
// was warmer than planned and had a note, one in hangers that was stopped, a
// rehearsal. It is made once; tests that write into it take a copy by keptAlone.
func kept(t testing.TB) func(*hall, *Options) {
	return func(h *hall, _ *Options) { h.store = keptStore(made(t)) }
}

func keptAlone(t testing.TB) func(*hall, *Options) {
	return func(h *hall, _ *Options) {
		folder := filepath.Join(t.TempDir(), "state", "sessions")
		if err := os.CopyFS(folder, os.DirFS(made(t))); err != nil {
			t.Fatal(err)
		}
		h.store = keptStore(folder)
	}
}

func keptStore(folder string) journal.Store {
	return journal.Store{Folders: []string{folder}, Disk: quick{}}
}

var (
	madeOnce   sync.Once
	madeFolder string // removed by TestMain; "" while there is none
)

// made is the folder of the notebook that is made once.
func made(t testing.TB) string {
	madeOnce.Do(func() {
		dir, err := os.MkdirTemp("", "notebook")
		if err != nil {
			t.Fatal(err)
		}
		madeFolder = filepath.Join(dir, "state", "sessions")
		h := &hall{store: keptStore(madeFolder)}
		keep(t, h, 0, "stack", 0, func(k *keeping) {
			k.do(3*time.Minute, sequence.TakeReading{T: 22.8})
			k.do(4*time.Minute, sequence.AddNote{Text: "the third sheet stuck"})
			k.finish()
		})
		keep(t, h, 24*time.Hour, "hangers", 0, func(k *keeping) { k.do(9*time.Minute, sequence.EndSession{}) })
		keep(t, h, 48*time.Hour, "stack", 30, func(k *keeping) { k.finish() })
	})
	return madeFolder
}

// quick is the computer's disk without waiting for it.
type quick struct{ journal.System }

func (q quick) Create(folder, name string) (journal.File, error) {
	f, err := q.System.Create(folder, name)
	return unsynced{f}, err
}

func (quick) SyncFolder(string) error { return nil }

type unsynced struct{ journal.File }

func (unsynced) Sync() error { return nil }

// keeping is a session while it is carried out and kept.
type keeping struct {
	t     testing.TB
	w     *journal.Writer
	state engine.State
	wall  time.Time
	seq   int
}

func keep(t testing.TB, h *hall, after time.Duration, recipe string, factor float64, carry func(*keeping)) {
	t.Helper()
	r, err := h.Recipe(recipe)
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
	id := h.store.NewID(k.wall, r.Film.Name)
	begun := engine.Decide(k.state, sequence.Begin{ID: id}, 0)
	k.w, err = h.store.Create(id, journal.Record{Plan: &plan, Rehearsal: factor, Clock: clock.Mark{Wall: k.wall}, Event: begun[0]})
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

func (k *keeping) finish() {
	for at, due := k.state.Due(); due && k.state.Over() == ""; at, due = k.state.Due() {
		k.keep(engine.Decide(k.state, sequence.Wake{}, at), at)
	}
}

// notebookOpen is the notebook with the sessions of kept.
func notebookOpen(t testing.TB) *desk { return sit(t, kept(t)).press("n").done().done() }

func TestNotebookListsSearchesAndReads(t *testing.T) {
	d := sit(t, keptAlone(t)).press("n").done().done()
	if d.m.screen != notebookScreen {
		t.Fatalf("screen %d", d.m.screen)
	}
	d.shows("3 sessions")
	d.shows("rehearsal, 2024-05-03")
	d.shows("ended early, 2024-05-02")
	d.press("/").types("stuck")
	d.shows("1 of 3 with \"stuck\"")
	d.press("enter")
	d.shows("1 of 3 with \"stuck\"")
	d.press("enter")
	d.shows("1 May 2024 20:00")
	d.shows("planned")
	d.shows("as it went")
	d.size(120, 60)
	d.shows("Note: the third sheet stuck")
	d.press("n").types("thin at the edge").press("enter")
	d.shows("thin at the edge")
	if s, err := notebook.Open(d.h.store, "2024-05-01T2000-plover-80"); err != nil || len(s.NotesAfter.List) != 1 {
		t.Errorf("%v, %+v", err, s.NotesAfter)
	}
	d.press("esc")
	if d.m.screen != notebookScreen {
		t.Errorf("esc led to screen %d", d.m.screen)
	}
	d.press("esc")
	if d.m.screen != recipeListScreen || len(d.m.subscreens) != 0 {
		t.Errorf("esc led to screen %d with %d beside", d.m.screen, len(d.m.subscreens))
	}
}

func (h *hall) Archive(id string) error { return notebook.Archive(h.store, id) }

// A session is done again with what was chosen then and what its result asks for;
// the look is told by its first letters.
func TestSessionAgainAndItsLooks(t *testing.T) {
	d := sit(t, keptAlone(t)).press("n").done().press("down", "enter")
	d.shows("Tern 125")
	d.press("l").types("th, zz").press("enter")
	d.shows("\"zz\"")
	d.press("l").types("den").press("enter")
	d.shows("noted. Negatives dense: the record shows no cause")
	d.press("e").types("so").press("enter")
	s, err := notebook.Open(d.h.store, "2024-05-02T2000-tern-125")
	if err != nil || s.Emulsion != notebook.EmulsionSound || len(s.NotesAfter.Appearances()) != 1 || s.NotesAfter.Appearances()[0] != notebook.Dense {
		t.Fatalf("%v, %q, %v", err, s.Emulsion, s.NotesAfter.Appearances())
	}
	d.press("a")
	if d.m.screen != planScreen || d.m.plan.conditions.Factor != "0.833" {
		t.Fatalf("screen %d, factor %q", d.m.screen, d.m.plan.conditions.Factor)
	}
	d.shows("the negatives are dense")
	d.press("esc")
	if d.m.screen != recipeListScreen {
		t.Errorf("esc led to screen %d", d.m.screen)
	}
}

// Two sessions are chosen one after the other; the same one twice is none.
func TestTwoSessionsCompared(t *testing.T) {
	d := notebookOpen(t).press("c", "c")
	d.shows("compared with none")
	d.press("c", "down", "down").press("c")
	if d.m.screen != compareScreen {
		t.Fatalf("screen %d", d.m.screen)
	}
	d.size(120, 40)
	d.shows("the third sheet stuck")
	d.shows("2024-05-03T2000-plover-80")
	d.press("esc")
	if d.m.screen != notebookScreen {
		t.Errorf("esc led to screen %d", d.m.screen)
	}
}

// A damaged session that has a plan is shown as far as it goes, and says that it is
// damaged; of one that has none nothing can be shown. Neither spoils the others.
func TestDamagedSessionsOnTheScreens(t *testing.T) {
	d := sit(t, keptAlone(t))
	folder := d.h.store.Folders[0]
	path := filepath.Join(folder, "2024-05-01T2000-plover-80.jsonl")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.SplitAfter(text, []byte{'\n'})
	lines[len(lines)-4][20] ^= 1
	for name, text := range map[string][]byte{path: bytes.Join(lines, nil), filepath.Join(folder, "2024-05-04T0900-knot.jsonl"): []byte("tide table\n")} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	d.press("n").done().size(120, 40)
	d.shows("4 sessions")
	d.shows("damaged, 2024-05-04")
	d.shows("damaged, 2024-05-01")
	d.press("enter")
	if d.m.screen != notebookScreen || !d.m.messageIsError {
		t.Fatalf("screen %d, %q", d.m.screen, d.m.message)
	}
	d.press("down", "down", "down", "enter")
	d.shows("damaged, 1 May 2024 20:00")
	d.shows("Its record cannot be believed beyond this")
	d.press("n").types("torn by a spilt tray").press("enter")
	d.size(120, 70).shows("torn by a spilt tray")
	d.press("a")
	if d.m.screen != planScreen {
		t.Errorf("screen %d; expected the plan, whose first record is whole", d.m.screen)
	}
}

// What was noted on a session is in the list that is come back to.
func TestTheListKnowsWhatWasNoted(t *testing.T) {
	d := sit(t, keptAlone(t)).press("n").done().press("down", "enter", "e").types("fr").press("enter", "esc")
	d.shows("emulsion: frayed")
	d.press("/").types("frayed")
	d.shows("1 of 3 with")
}

// What is put away is gone from the list, and how it comes back is said.
func TestPutAwayOnTheScreen(t *testing.T) {
	d := sit(t, keptAlone(t)).press("n").done().press("enter", "x")
	d.shows("--restore")
	d.done()
	d.shows("2 sessions")
	if got := notebook.Archived(d.h.store); len(got) != 1 || got[0] != "2024-05-03T2000-plover-80" {
		t.Errorf("away: %q", got)
	}
}

// What is searched for and is nowhere is said; esc shows all again.
func TestNotebookWithNothingFound(t *testing.T) {
	d := notebookOpen(t).press("/").types("zz")
	d.shows("None of them has all these words in it")
	d.press("esc")
	d.shows("3 sessions")
	d.press("/").types("hangers 2024-05 tern")
	d.shows("1 of 3 with")
	sit(t, func(h *hall, _ *Options) { h.store = journal.Store{Folders: []string{t.TempDir()}} }).press("n").done().shows("No session is kept yet.")
}

func TestMain(m *testing.M) {
	status := m.Run()
	for _, folder := range []string{madeFolder, testedFolder} {
		if folder != "" {
			os.RemoveAll(filepath.Dir(filepath.Dir(folder)))
		}
	}
	os.Exit(status)
}
