package sessiontest

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// git runs in a folder as somebody whose settings are nobody's.
func git(t *testing.T, folder string, args ...string) {
	t.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_NOSYSTEM=1", "GIT_EDITOR=true",
		"GIT_AUTHOR_NAME=a", "GIT_AUTHOR_EMAIL=a@example.org", "GIT_COMMITTER_NAME=a", "GIT_COMMITTER_EMAIL=a@example.org")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("git %q: %v\n%s", args, err, out)
	}
}

// clone is a laptop's copy of the shared folder, with what wetside keeps in it.
type clone struct {
	folder string
	store  journal.Store
	box    holders.SheetStore
	ledger bottles.Ledger
}

func newClone(folder, mark string) clone {
	return clone{folder, journal.Store{Folders: []string{filepath.Join(folder, "sessions")}, Laptop: mark},
		holders.SheetStore{Folder: filepath.Join(folder, "sheets"), Laptop: "laptop-" + mark},
		bottles.Ledger{Folder: filepath.Join(folder, "baths"), Laptop: "laptop-" + mark}}
}

// writes is what one laptop writes before it has heard of the other.
func (c clone) writes(t *testing.T, session, text string, at time.Time) {
	t.Helper()
	if _, err := c.ledger.OpenBottle(SixInTray().Baths[0], text, at); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(
		notebook.AddNote(c.store, session, notebook.Note{Written: at, Text: text}),
		c.box.Add(holders.ExposedSheet{Holder: text, Film: "Plover 80"}),
	); err != nil {
		t.Fatal(err)
	}
	git(t, c.folder, "add", "-A")
	git(t, c.folder, "commit", "-q", "-m", text)
}

// Two laptops of one name note on the same session, add sheets and open bottles, each in
// its own clone: git merges them without a conflict, and both know all of it.
func TestTwoClonesMerge(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		if os.Getenv("WETSIDE_E2E") != "" {
			t.Fatal(err)
		}
		t.Skip("no git here")
	}
	dir := t.TempDir()
	shared := filepath.Join(dir, "shared.git")
	git(t, dir, "init", "-q", "--bare", "-b", "main", shared)
	dry, attic := newClone(filepath.Join(dir, "dry"), "abc"), newClone(filepath.Join(dir, "attic"), "k7q")
	git(t, dir, "clone", "-q", shared, dry.folder)
	git(t, dry.folder, "checkout", "-q", "-b", "main")
	if err := os.WriteFile(filepath.Join(dry.folder, ".gitignore"), []byte("*.lock\nnotebook.index*\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	session := Begin(t, dry.store, 0, SixInTray(), sequence.Conditions{}).Finish()
	dry.writes(t, session, "zero", Evening)
	git(t, dry.folder, "push", "-q", "origin", "main")
	git(t, dir, "clone", "-q", shared, attic.folder)

	attic.writes(t, session, "two", Evening.Add(2*time.Hour))
	dry.writes(t, session, "one", Evening.Add(time.Hour))
	git(t, dry.folder, "push", "-q", "origin", "main")
	git(t, attic.folder, "pull", "-q", "--no-rebase", "--no-edit", "origin", "main")
	git(t, attic.folder, "push", "-q", "origin", "main")
	git(t, dry.folder, "pull", "-q", "--ff-only", "origin", "main")

	for _, c := range []clone{dry, attic} {
		s := mustOpen(t, c.store, session)
		if n := s.NotesAfter.List; len(n) != 3 || n[0].Text != "zero" || n[1].Text != "one" || n[2].Text != "two" || s.NotesAfter.Bad != 0 {
			t.Errorf("%s: %+v", c.folder, s.NotesAfter)
		}
		if list, err := c.box.List(); err != nil || len(list) != 3 {
			t.Errorf("%s: %v, %+v", c.folder, err, list)
		}
		if b, err := c.ledger.Read(); err != nil || len(b.Bottles) != 3 || b.Unreadable != 0 {
			t.Errorf("%s: %v, %+v", c.folder, err, b)
		}
	}
	if _, err := os.Stat(filepath.Join(dry.folder, "sessions", session+".notes.jsonl")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file of nobody's: %v", err)
	}
}

func mustOpen(t testing.TB, store journal.Store, id string) notebook.Session {
	t.Helper()
	s, err := notebook.Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
