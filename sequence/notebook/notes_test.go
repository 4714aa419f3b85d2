package notebook

// Notes written afterwards, and searching.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

func TestNotesAfterwards(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	before, err := os.ReadFile(journalOf(store, id))
	if err != nil {
		t.Fatal(err)
	}
	List(store)
	for i, n := range []Note{{Text: "a corner of \"sheet 1\"\nlifted"}, {Emulsion: EmulsionLifted}, {Text: "dry now", Emulsion: EmulsionSound}} {
		n.Written = sessiontest.Evening.Add(time.Duration(i) * time.Hour)
		if err := AddNote(store, id, n); err != nil {
			t.Fatal(err)
		}
	}
	s := opened(t, store, id)
	if len(s.NotesAfter.List) != 3 || s.NotesAfter.List[0].Text != "a corner of \"sheet 1\"\nlifted" || s.Emulsion != EmulsionSound || !s.NotesAfter.List[2].Written.Equal(sessiontest.Evening.Add(2*time.Hour)) {
		t.Errorf("%+v", s.NotesAfter)
	}
	if after, _ := os.ReadFile(journalOf(store, id)); string(after) != string(before) {
		t.Error("the journal was written to")
	}
	info, err := os.Stat(filepath.Join(store.Folders[0], id+".notes.jsonl"))
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info, err)
	}
	if list := List(store); list[0].Emulsion != EmulsionSound || len(Filter{Text: "DRY NOW"}.Select(list)) != 1 {
		t.Errorf("the list does not know: %+v", list)
	}
	if got := store.List(); len(got) != 1 || got[0].Status != "done" {
		t.Errorf("the journal took the notes for a session: %+v", got)
	}
}

func TestNotesThatAreRefused(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	for _, n := range []Note{{}, {Text: " \n"}, {Emulsion: "soft"}, {Text: strings.Repeat("x", longestNote+1)}} {
		if err := AddNote(store, id, n); err == nil {
			t.Errorf("%+v was taken", n)
		}
	}
	if err := AddNote(store, "2019-05-04T1200-tern", Note{Text: "x"}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a note on nothing: %v", err)
	}
	if err := AddNote(store, "../x", Note{Text: "x"}); err == nil {
		t.Error("a note outside the folder")
	}
	if left, _ := filepath.Glob(filepath.Join(store.Folders[0], "*.notes.jsonl")); len(left) != 0 {
		t.Errorf("written all the same: %q", left)
	}
}

// A write that was cut off costs that note alone, and not the next.
func TestNotesWithATornLine(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	path := filepath.Join(store.Folders[0], id+".notes.jsonl")
	if err := os.WriteFile(path, []byte(`{"v":1,"written":"2026-11-26T08:00:00+01:00","note":"to`), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := AddNote(store, id, Note{Written: sessiontest.Evening, Text: "whole"}); err != nil {
		t.Fatal(err)
	}
	if l := opened(t, store, id).NotesAfter; l.Bad != 1 || len(l.List) != 1 || l.List[0].Text != "whole" {
		t.Errorf("%+v", l)
	}
}

// What the state of the emulsion says of the limit, by hand: 25:00 of the 20:00
// that the film stands in a tray are 125 %.
func TestTheEmulsionAndTheLimit(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := sessiontest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 10*recipetest.Minute), recipetest.Bath(sequence.Fix, 15*recipetest.Minute))
	id := sessiontest.Begin(t, store, 0, r, sequence.Conditions{}).Finish()
	for _, c := range []struct {
		state Emulsion
		want  FindingCode
	}{{"", WetUnlooked}, {EmulsionSound, WetSoundBeyond}, {EmulsionTorn, WetDamaged}} {
		if c.state != "" {
			if err := AddNote(store, id, Note{Written: sessiontest.Evening.Add(time.Hour), Emulsion: c.state}); err != nil {
				t.Fatal(err)
			}
		}
		got := opened(t, store, id).Findings
		if len(got) != 1 || got[0].Code != c.want || got[0].Emulsion != c.state || got[0].Wet.Sheet != 1 || got[0].Wet.Total != 25*recipetest.Minute || *got[0].Wet.Used != 1.25 {
			t.Errorf("%q: %+v; want %s", c.state, got, c.want)
		}
	}
}

func TestSelect(t *testing.T) {
	store := sessiontest.NewStore(t)
	sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	wash := recipetest.Bath(sequence.Wash, 5*recipetest.Minute)
	wash.Vessel = sequence.Hangers
	r := sessiontest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 2*recipetest.Minute), wash)
	r.Film.Name, r.Title, r.Baths[0].Parts[0].Name = "Tern 125", "High contrast", "Harbour 7"
	n := sessiontest.Begin(t, store, 30*time.Hour, r, sequence.Conditions{}) // 27 November, 01:12
	n.Do(sequence.AddNote{Text: "Fog signal all night"}, 30*recipetest.Second)
	n.Finish()
	list := List(store)
	day := func(d int) time.Time { return time.Date(2026, 11, d, 0, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		f    Filter
		want int
	}{
		{Filter{}, 2}, {Filter{Film: "tern"}, 1}, {Filter{Film: "TERN 125"}, 1}, {Filter{Film: "avocet"}, 0},
		{Filter{Vessel: sequence.Hangers}, 2}, {Filter{Vessel: sequence.Tray}, 1}, {Filter{Vessel: sequence.Drum}, 0},
		{Filter{Bath: "developer"}, 2}, {Filter{Bath: "harbour"}, 1}, {Filter{Bath: "high"}, 0},
		{Filter{Text: "fog SIGNAL"}, 1}, {Filter{Text: "contrast"}, 1}, {Filter{Text: "tide is in"}, 2},
		{Filter{Since: day(25)}, 2}, {Filter{Since: day(26)}, 1}, {Filter{Since: day(28)}, 0},
		{Filter{Until: day(24)}, 0}, {Filter{Until: day(25)}, 1}, {Filter{Until: day(27)}, 2},
		{Filter{Since: day(26), Until: day(26)}, 0}, {Filter{Film: "tern", Text: "fog", Since: day(27), Until: day(27)}, 1},
	} {
		if got := c.f.Select(list); len(got) != c.want {
			t.Errorf("%+v: %s; want %d", c.f, ids(got), c.want)
		}
	}
}

// Every word typed must be found, each wherever it stands.
func TestSearchByPlainWords(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := short("Plover 80")
	r.Load.Names = []string{"3A"}
	sessiontest.Begin(t, store, 0, r, sequence.Conditions{}).Finish()
	r = sessiontest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 2*recipetest.Minute))
	r.Film.Name, r.Title, r.Baths[0].Parts[0].Name = "Tern 125", "High contrast", "Jetty 7"
	n := sessiontest.Begin(t, store, 30*time.Hour, r, sequence.Conditions{}) // 27 November, 01:12
	n.Do(sequence.AddNote{Text: "Fog signal all night"}, 30*recipetest.Second)
	n.Do(sequence.EndSession{}, 1*recipetest.Minute)
	n.Close()
	if err := AddNote(store, n.Id, Note{Written: sessiontest.Evening, Emulsion: EmulsionTorn}); err != nil {
		t.Fatal(err)
	}
	list := List(store)
	for _, c := range []struct {
		typed string
		want  int
	}{
		{"", 2}, {"  ", 2}, {"plover", 1}, {"80", 1}, {"TERN", 1}, {"avocet", 0}, {"tray", 1}, {"hangers", 1}, {"drum", 0},
		{"2026", 2}, {"2026-11-27", 1}, {"2026-12", 0}, {"jetty", 1}, {"developer", 2}, {"stopped", 1}, {"frayed", 1}, {"3a", 1},
		{"signal", 1}, {"tern tray 2026-11 jetty fog", 1}, {"night contrast", 1}, {"tern hangers", 0}, {"rehearsal", 0},
	} {
		if got := Search(list, c.typed); len(got) != c.want {
			t.Errorf("%q: %s; want %d", c.typed, ids(got), c.want)
		}
	}
}
