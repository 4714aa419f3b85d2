package notebook

// A darkroom shared by several laptops: folders in git, where nothing that two of them
// write meanwhile may conflict.

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/sessiontest"
)

// Each laptop's notes are in a file of its own, beside those of before; they are read
// in their time, listed, and put away together.
func TestNotesOfSeveralLaptops(t *testing.T) {
	nobody := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, nobody, 0, sessiontest.SixInTray(), sequence.Conditions{}).Finish()
	dry, attic := nobody, nobody
	dry.Laptop, attic.Laptop = "abc", "k7q"
	for i, n := range []struct {
		by   journal.Store
		text string
		came Emulsion
	}{{nobody, "first", ""}, {attic, "second", EmulsionSound}, {dry, "third", EmulsionLifted}, {attic, "fourth", ""}} {
		if err := AddNote(n.by, id, Note{Written: sessiontest.Evening.Add(time.Duration(i) * time.Hour), Text: n.text, Emulsion: n.came}); err != nil {
			t.Fatal(err)
		}
	}
	for _, suffix := range []string{".notes.jsonl", ".abc.notes.jsonl", ".k7q.notes.jsonl"} {
		if _, err := os.Stat(filepath.Join(nobody.Folders[0], id+suffix)); err != nil {
			t.Error(err)
		}
	}
	hears := func(store journal.Store) {
		t.Helper()
		l := opened(t, store, id).NotesAfter
		var texts []string
		for _, n := range l.List {
			texts = append(texts, n.Text)
		}
		if !slices.Equal(texts, []string{"first", "second", "third", "fourth"}) || l.Emulsion() != EmulsionLifted || l.Bad != 0 {
			t.Errorf("%q, %q, %d bad", texts, l.Emulsion(), l.Bad)
		}
		list := List(store)
		if len(list) != 1 || list[0].Emulsion != EmulsionLifted || len(Filter{Text: "fourth"}.Select(list)) != 1 {
			t.Errorf("%+v", list)
		}
	}
	hears(dry)
	hears(attic)
	if err := Archive(dry, id); err != nil {
		t.Fatal(err)
	}
	if left, _ := filepath.Glob(filepath.Join(nobody.Folders[0], "*.notes.jsonl")); len(left) != 0 {
		t.Errorf("left behind: %q", left)
	}
	if err := Restore(attic, id); err != nil {
		t.Fatal(err)
	}
	hears(dry)
}
