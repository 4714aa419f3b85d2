package notebook

// How long listing and searching two thousand sessions takes, and how much
// memory: each about a thousand records.

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

const (
	shelf  = 2000 // sessions
	models = 20   // of them carried out; the others are these under other names
)

// stocked is a store with shelf sessions.
func stocked(t testing.TB) journal.Store {
	t.Helper()
	store := sessiontest.NewStore(t)
	develop := recipetest.Shuffled(sessiontest.Warmed(recipetest.Bath(sequence.Develop, 25*recipetest.Minute)))
	r := sessiontest.Recipe(sequence.Tray, 6, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 10*recipetest.Minute)), develop, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 100*recipetest.Minute)))
	for i := range models {
		r.Film.Name = fmt.Sprintf("Plover %d", 25+i)
		n := sessiontest.Begin(t, store, time.Duration(i)*time.Hour, r, sequence.Conditions{})
		n.Do(sequence.AddNote{Text: fmt.Sprintf("low water at %d", i)}, 30*recipetest.Second)
		id := n.Finish()
		for k := 1; k < shelf/models; k++ {
			copied := fmt.Sprintf("%s-%d", id, k+1)
			if err := os.Link(journalOf(store, id), journalOf(store, copied)); err != nil {
				t.Fatal(err)
			}
		}
	}
	return store
}

func BenchmarkTwoThousand(b *testing.B) {
	store := stocked(b)
	b.Run("rebuild", func(b *testing.B) {
		for b.Loop() {
			os.Remove(indexOf(store))
			if n := len(List(store)); n != shelf {
				b.Fatal(n)
			}
		}
	})
	b.Run("list", func(b *testing.B) {
		for b.Loop() {
			if n := len(List(store)); n != shelf {
				b.Fatal(n)
			}
		}
	})
	b.Run("one-changed", func(b *testing.B) {
		path := filepath.Join(store.Folders[0], List(store)[7].ID+".jsonl")
		text, err := os.ReadFile(path)
		if err = errors.Join(err, os.Remove(path), os.WriteFile(path, text, 0o600)); err != nil { // a link no longer
			b.Fatal(err)
		}
		for i := 0; b.Loop(); i++ {
			at := sessiontest.Evening.Add(time.Duration(i) * time.Second)
			if err := os.Chtimes(path, at, at); err != nil {
				b.Fatal(err)
			}
			List(store)
		}
	})
	list := List(store)
	b.Run("search", func(b *testing.B) {
		for b.Loop() {
			f := Filter{Film: "plover", Vessel: sequence.Tray, Bath: "part a", Text: "low water at 7", Since: sessiontest.Evening}
			if n := len(f.Select(list)); n == 0 || n == shelf {
				b.Fatal(n)
			}
		}
	})
	b.Run("words", func(b *testing.B) {
		for b.Loop() {
			if n := len(Search(list, "plover tray 2026 developer 7")); n == 0 || n == shelf {
				b.Fatal(n)
			}
		}
	})
	b.Run("open", func(b *testing.B) {
		n := 0
		for b.Loop() {
			kept, err := store.Read(list[0].ID)
			if err != nil {
				b.Fatal(err)
			}
			n = len(kept.Records)
			opened(b, store, list[0].ID)
		}
		b.ReportMetric(float64(n), "records")
	})
	for _, what := range []string{"rebuild", "list"} {
		if what == "rebuild" {
			os.Remove(indexOf(store))
		}
		b.Log(what, "in a process of its own:", elsewhere(b, store))
	}
}

// elsewhere lists in a fresh process and says what that took.
func elsewhere(t testing.TB, store journal.Store) string {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestListElsewhere$", "-test.v")
	cmd.Env = append(os.Environ(), "NOTEBOOK_FOLDER="+store.Folders[0])
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for line := range strings.Lines(string(out)) {
		if _, told, ok := strings.Cut(line, "took "); ok {
			return strings.TrimSpace(told)
		}
	}
	t.Fatalf("%s", out)
	return ""
}

// TestListElsewhere is the other process of the benchmark.
func TestListElsewhere(t *testing.T) {
	folder := os.Getenv("NOTEBOOK_FOLDER")
	if folder == "" {
		t.Skip("only for the benchmark")
	}
	start := time.Now()
	n := len(List(journal.Store{Folders: []string{folder}}))
	t.Logf("took %v for %d sessions, peak memory %s", time.Since(start).Round(time.Millisecond), n, peak())
}

// peak is the most memory that this process has held, as Linux tells it.
func peak() string {
	f, err := os.Open("/proc/self/status")
	if err != nil {
		return "not known on " + runtime.GOOS
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		if v, ok := strings.CutPrefix(s.Text(), "VmHWM:"); ok {
			return strings.TrimSpace(v)
		}
	}
	return "not known"
}
