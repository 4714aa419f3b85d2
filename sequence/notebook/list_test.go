package notebook

// The list and its index: whatever becomes of the index, the list is what the
// journals say.

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

func short(film string) sequence.Recipe {
	r := sessiontest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 2*recipetest.Minute), recipetest.Bath(sequence.Fix, 2*recipetest.Minute))
	r.Film.Name = film
	return r
}

func ids(list []Summary) string {
	var all []string
	for _, s := range list {
		all = append(all, fmt.Sprintf("%s %s", s.ID, s.Status))
	}
	return strings.Join(all, ", ")
}

func journalOf(store journal.Store, id string) string {
	return filepath.Join(store.Folders[0], id+".jsonl")
}

func indexOf(store journal.Store) string { return filepath.Join(store.Folders[0], indexName) }

func rewrite(t testing.TB, path string, change func([]byte) []byte) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, change(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// spoil changes one byte in the middle of the second line.
func spoil(text []byte) []byte {
	lines := bytes.SplitAfter(text, []byte{'\n'})
	lines[1][len(lines[1])/2] ^= 1
	return bytes.Join(lines, nil)
}

func TestListNewestFirstWithEveryStatus(t *testing.T) {
	store := sessiontest.NewStore(t)
	if list := List(store); len(list) != 0 {
		t.Errorf("nothing there, yet: %s", ids(list))
	}
	done := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	stopped := sessiontest.Begin(t, store, time.Hour, short("Tern 125"), sequence.Conditions{})
	stopped.Do(sequence.EndSession{}, 1*recipetest.Minute)
	stopped.Close()
	damaged := sessiontest.Begin(t, store, 2*time.Hour, short("Dunlin 25"), sequence.Conditions{}).Finish()
	rewrite(t, journalOf(store, damaged), spoil)
	open := sessiontest.Begin(t, store, 24*time.Hour, short("Curlew 100"), sequence.Conditions{}).Close()
	bad := "2026-11-20T0900-turnstone"
	if err := os.WriteFile(journalOf(store, bad), []byte("tide table\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf("%s open, %s damaged, %s stopped, %s done, %s damaged", open, damaged, stopped.Id, done, bad)
	for _, round := range []string{"read", "from the index"} {
		list := List(store)
		if ids(list) != want {
			t.Fatalf("%s: %s\nwant %s", round, ids(list), want)
		}
		if s := list[1]; s.Film != "Dunlin 25" || s.Ended != nil || !strings.Contains(s.Problem, ":2: journal is damaged") {
			t.Errorf("%s: %+v", round, s)
		}
		if s := list[2]; s.Ended == nil || !s.Ended.Equal(sessiontest.Evening.Add(time.Hour+1*recipetest.Minute)) {
			t.Errorf("%s: %+v", round, s)
		}
		if s := list[4]; s.Started != nil || s.Recipe != "" || s.Day() != "2026-11-20" {
			t.Errorf("%s: %+v", round, s)
		}
	}
	if _, err := Open(store, damaged); !errors.As(err, new(*journal.DamagedError)) {
		t.Errorf("Open of a damaged one: %v", err)
	}
	if _, err := Open(store, "2019-05-04T1200-tern"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("Open of one that is not there: %v", err)
	}
}

// What is read of a damaged journal is what stands before the damage.
func TestADamagedOneAsFarAsItGoes(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	rewrite(t, journalOf(store, id), func(text []byte) []byte {
		lines := bytes.SplitAfter(text, []byte{'\n'})
		lines[len(lines)-3][20] ^= 1 // the last but one
		return bytes.Join(lines, nil)
	})
	s, err := Open(store, id)
	if err == nil || s.Status != journal.Damaged || len(s.Steps) != 2 || s.Steps[0].Sheets[0].Given != 2*recipetest.Minute || s.Ended != nil {
		t.Errorf("%v: %+v", err, s)
	}
}

func TestTheIndexIsNeverTheTruth(t *testing.T) {
	store := sessiontest.NewStore(t)
	a := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	b := sessiontest.Begin(t, store, time.Hour, short("Tern 125"), sequence.Conditions{})
	b.W.Close()
	want := List(store)
	info, err := os.Stat(indexOf(store))
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Fatalf("index: %v %v", info, err)
	}
	for name, change := range map[string]func([]byte) []byte{
		"empty":   func([]byte) []byte { return nil },
		"cut":     func(text []byte) []byte { return text[:len(text)-7] },
		"flipped": func(text []byte) []byte { return bytes.Replace(text, []byte("Plover"), []byte("Pluver"), 1) },
		"of another version": func(text []byte) []byte {
			_, body, _ := bytes.Cut(text, []byte{'\n'})
			body = bytes.Replace(body, []byte("Plover"), []byte("Pluver"), 1)
			return fmt.Appendf(nil, "wetside notebook index 0 %08x\n%s", crc32.Checksum(body, castagnoli), body)
		},
		"no index": func([]byte) []byte { return []byte("tide table\n") },
	} {
		rewrite(t, indexOf(store), change)
		if got := List(store); !reflect.DeepEqual(got, want) {
			t.Errorf("index %s: %+v\nwant %+v", name, got, want)
		}
	}
	if err := os.Remove(journalOf(store, a)); err != nil {
		t.Fatal(err)
	}
	if got := List(store); len(got) != 1 || got[0].ID != b.Id {
		t.Errorf("one taken away: %s", ids(got))
	}
	rewrite(t, journalOf(store, b.Id), spoil)
	if got := List(store); got[0].Status != journal.Damaged {
		t.Errorf("damaged since: %s", ids(got))
	}
	left, err := filepath.Glob(filepath.Join(store.Folders[0], "*.new"))
	if err != nil || len(left) != 0 {
		t.Errorf("working files left: %q %v", left, err)
	}
}

// An index that is whole and fits is used: what it says of an unchanged file is
// told, without reading that.
func TestTheIndexSparesReading(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	List(store)
	path := journalOf(store, id)
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	rewrite(t, path, func(text []byte) []byte { return bytes.Repeat([]byte{'x'}, len(text)) })
	if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	if got := List(store); got[0].Status != journal.Done {
		t.Errorf("read again: %s", ids(got))
	}
	if err := os.Chtimes(path, time.Time{}, info.ModTime().Add(time.Nanosecond*1000)); err != nil {
		t.Fatal(err)
	}
	if got := List(store); got[0].Status != journal.Damaged {
		t.Errorf("touched, and not read again: %s", ids(got))
	}
}

// A folder that takes no index still has its list.
func TestAListWithoutAPlaceForItsIndex(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	if err := os.Mkdir(indexOf(store), 0o700); err != nil { // no file can take that name
		t.Fatal(err)
	}
	for range 2 {
		if got := List(store); len(got) != 1 || got[0].ID != id {
			t.Errorf("%s", ids(got))
		}
	}
	if left, _ := filepath.Glob(filepath.Join(store.Folders[0], "*.new")); len(left) != 0 {
		t.Errorf("working files left: %q", left)
	}
}

// A session that went on in another folder is one session, told as it went on,
// whichever folder that is and whatever the file is called.
func TestASessionInTwoFolders(t *testing.T) {
	for _, c := range []struct {
		replayable, cut int
		name            string
	}{{1, 0, ".2.jsonl"}, {1, 0, ".jsonl"}, {0, 1, ".jsonl"}} {
		store := sessiontest.NewStore(t)
		n := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{})
		path := journalOf(store, n.Id)
		first, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		n.Finish()
		whole, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(os.Remove(path), os.MkdirAll(store.Folders[1], 0o700),
			os.WriteFile(filepath.Join(store.Folders[c.cut], n.Id+".jsonl"), first, 0o600),
			os.WriteFile(filepath.Join(store.Folders[c.replayable], n.Id+c.name), whole, 0o600)); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if got := List(store); ids(got) != n.Id+" done" {
				t.Errorf("%+v: %s", c, ids(got))
			}
		}
	}
}

// A folder that somebody else may have laid out is not believed: neither its
// journals nor an index in it.
func TestAFolderThatIsNotOurs(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("temporary folders are each user's own there")
	}
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, short("Plover 80"), sequence.Conditions{}).Finish()
	above := filepath.Dir(store.Folders[0])
	if err := errors.Join(os.Chmod(above, 0o777|os.ModeSticky), os.Chmod(store.Folders[0], 0o755)); err != nil {
		t.Fatal(err)
	}
	if got := List(store); len(got) != 0 {
		t.Errorf("believed: %s", ids(got))
	}
	if err := os.Chmod(store.Folders[0], 0o700); err != nil {
		t.Fatal(err)
	}
	if got := List(store); ids(got) != id+" done" {
		t.Errorf("our own below a shared one: %s", ids(got))
	}
	if _, err := os.Stat(indexOf(store)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("an index below a shared folder: %v", err)
	}
}

// For random sets of sessions, touched at random between two lists, the list is
// what reading every session in full gives.
func TestTheListIsWhatTheJournalsSay(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		store := sessiontest.NewStore(t)
		for range rapid.IntRange(1, 4).Draw(rt, "rounds") {
			for i := range rapid.IntRange(0, 3).Draw(rt, "more") {
				film := rapid.SampledFrom([]string{"Plover 80", "Tern 125", "Curlew 100"}).Draw(rt, "film")
				after := time.Duration(rapid.IntRange(0, 3).Draw(rt, "hour")) * time.Hour
				n := sessiontest.Begin(t, store, after, short(film), sequence.Conditions{})
				n.Do(sequence.AddNote{Text: fmt.Sprintf("tide %d", i)}, 10*recipetest.Second)
				switch rapid.IntRange(0, 3).Draw(rt, "fate") {
				case 0:
					n.Finish()
				case 1:
					n.Do(sequence.EndSession{}, 1*recipetest.Minute)
					n.Close()
				case 2:
					n.Close()
				case 3:
					id := n.Finish()
					rewrite(t, journalOf(store, id), spoil)
				}
				if rapid.Bool().Draw(rt, "noted") {
					if err := AddNote(store, n.Id, Note{Written: sessiontest.Evening, Emulsion: EmulsionSound}); err != nil {
						rt.Fatal(err)
					}
				}
			}
			list := List(store)
			for _, s := range list {
				full, err := Open(store, s.ID)
				if !reflect.DeepEqual(s, full.Summary) || (err != nil) != (s.Status == journal.Damaged) {
					rt.Fatalf("%+v\nin full %+v (%v)", s, full.Summary, err)
				}
			}
			if direct := store.List(); len(direct) != len(list) {
				rt.Fatalf("%d listed; the journal has %d", len(list), len(direct))
			}
		}
	})
}

// The list knows which bottles of stock a plan draws on.
func TestTheListKnowsTheStock(t *testing.T) {
	r := short("Tern")
	r.Baths[0].Volume, r.Steps[0].Bath = 610, r.Baths[0].ID
	p, err := planning.Resolve(r, sequence.Conditions{Stock: []sequence.Stock{{Part: "part A", Bottle: "s", Left: 500, Opened: 500}}})
	if err != nil {
		t.Fatal(err)
	}
	var told Summary
	if told.describe(&p); !slices.Contains(told.Bottles, "s") {
		t.Error("the list does not know what was drawn on")
	}
}
