package journal

// Finding sessions, and what they are called.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

func TestNewID(t *testing.T) {
	s := newStore(t, 1)
	for name, want := range map[string]string{
		"Plover 80":               "2026-11-25T1912-plover-80",
		"../../etc/Curlew\x1b[2J": "2026-11-25T1912-etc-curlew-2j",
		"  Tern -- (ortho)  ":     "2026-11-25T1912-tern-ortho",
		"\u0160\u010d\u00fc":      "2026-11-25T1912",
		"":                        "2026-11-25T1912",
	} {
		got := s.NewID(evening, name)
		if got != want || checkID(got) != nil {
			t.Errorf("%q gives %q; expected %q", name, got, want)
		}
	}
	if got := s.NewID(evening, strings.Repeat("x", 41)); got != "2026-11-25T1912-"+strings.Repeat("x", 40) {
		t.Errorf("%q; expected forty letters of the name", got)
	}
	var ids []string
	for range 3 {
		id := s.NewID(evening, "Plover 80")
		w, err := s.Create(id, record(0))
		if err != nil {
			t.Fatal(err)
		}
		w.Close()
		ids = append(ids, id)
	}
	ids = append(ids, s.NewID(evening.Add(time.Minute), "Avocet 25"))
	if want := []string{testID, testID + "-2", testID + "-3", "2026-11-25T1913-avocet-25"}; !slices.Equal(ids, want) || !slices.IsSorted(ids) {
		t.Errorf("ids are %q; expected %q", ids, want)
	}
}

func TestIDsFromOutside(t *testing.T) {
	s := newStore(t, 1)
	for _, id := range []string{"", "..", "../x", "a/b", "a\x00b", "a.2", strings.Repeat("x", 101), "\u00e9"} {
		if _, err := s.Read(id); err == nil || errors.Is(err, fs.ErrNotExist) {
			t.Errorf("Read(%q): %v", id, err)
		}
		if _, _, err := s.TakeUp(id); err == nil || errors.Is(err, fs.ErrNotExist) {
			t.Errorf("Take(%q): %v", id, err)
		}
	}
	if _, err := s.Read("2026"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing: %v", err)
	}
}

func TestIsID(t *testing.T) {
	for id, want := range map[string]bool{"az-AZ-09": true, strings.Repeat("x", 100): true, strings.Repeat("x", 101): false, "": false,
		"`": false, "{": false, "@": false, "[": false, "/": false, ":": false, ".": false, "a b": false} {
		if IsID(id) != want {
			t.Errorf("%q: %v; want %v", id, !want, want)
		}
	}
}

func TestSegmentNames(t *testing.T) {
	for name, want := range map[string]int{"a.jsonl": 1, "a.2.jsonl": 2, "a.12.jsonl": 12,
		"a.1.jsonl": 0, "a.0.jsonl": 0, "a.x.jsonl": 0, "a.2.3.jsonl": 0, "a.jsonl.new": 0, "a.torn": 0, "a.lock": 0, ".jsonl": 0} {
		id, n, ok := SegmentOf(name)
		if ok != (want > 0) || ok && (n != want || id != "a" || segmentName(id, n) != name) {
			t.Errorf("%s: %q %d %v; expected number %d", name, id, n, ok, want)
		}
	}
}

func TestList(t *testing.T) {
	s := newStore(t, 2)
	if list := s.List(); len(list) != 0 {
		t.Errorf("nothing there, yet listed: %+v", list)
	}
	make := func(id string, ends ...sequence.EventKind) {
		w, err := s.Create(id, record(0))
		if err != nil {
			t.Fatal(err)
		}
		for i, k := range ends {
			if err := w.Append(Record{Seq: i + 1, Clock: mark(i + 1), Event: sequence.Event{Kind: k}}); err != nil {
				t.Fatal(err)
			}
		}
		w.Close()
	}
	make("2026-11-20T0900-tern")
	make("2026-11-21T0900-tern", sequence.StepBegan)
	make("2026-11-22T0900-tern", sequence.StepBegan, sequence.SessionDone)
	make("2026-11-23T0900-tern", sequence.SessionStopped)
	for name, data := range map[string]string{"2026-11-24T0900-tern.jsonl": "junk\n", "notes.txt": "not ours", "2026-11-25T0900-tern.jsonl.new": "{"} {
		if err := os.WriteFile(filepath.Join(s.Folders[0], name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(s.Folders[0], "2026-11-26T0900-folder.jsonl"), 0o700); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range s.List() {
		got = append(got, e.ID[8:10]+" "+string(e.Status))
		if e.Status != Damaged && (e.First.Plan == nil || e.Last.Seq != e.Records-1) {
			t.Errorf("%s: first %+v, last %+v", e.ID, e.First, e.Last)
		}
	}
	if want := []string{"24 damaged", "23 stopped", "22 done", "21 open", "20 open"}; !slices.Equal(got, want) {
		t.Errorf("listed %q; expected %q", got, want)
	}
	got = nil
	at := time.Date(2026, 11, 22, 9, 0, 0, 0, time.Local)
	for _, e := range s.Since(at) {
		got = append(got, e.ID[8:10]+" "+string(e.Status))
	}
	if want := []string{"24 damaged", "23 stopped", "22 done"}; !slices.Equal(got, want) {
		t.Errorf("since the 22nd %q; expected %q", got, want)
	}
	if list := s.Since(at.AddDate(0, 0, 3)); len(list) != 0 {
		t.Errorf("since the 25th %+v", list)
	}
	bare := at.AddDate(0, 0, -7).Format(idPattern) // its time is all of its name
	make(bare)
	if list := s.Since(at); slices.ContainsFunc(list, func(e Listed) bool { return e.ID == bare }) {
		t.Errorf("%s is listed since the 22nd", bare)
	}
	if err := os.WriteFile(filepath.Join(s.Folders[0], "tern.jsonl"), []byte("junk\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if list := s.Since(at.AddDate(1, 0, 0)); len(list) != 1 || list[0].ID != "tern" {
		t.Errorf("a year later %+v; expected the one whose name tells no time", list)
	}
}

func TestFolders(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", "/state")
	t.Setenv("XDG_RUNTIME_DIR", "/run/user/7")
	got := Folders()
	if len(got) != 3 || got[0] != filepath.FromSlash("/state/wetside/sessions") || filepath.Dir(got[1]) != filepath.FromSlash("/run/user/7/wetside") ||
		filepath.Dir(got[2]) != filepath.Clean(os.TempDir()) ||
		!strings.HasPrefix(filepath.Base(got[2]), fmt.Sprintf("wetside-%d-", max(0, os.Geteuid()))) {
		t.Errorf("folders are %q", got)
	}
	t.Setenv("XDG_STATE_HOME", "relative")
	t.Setenv("XDG_RUNTIME_DIR", "")
	t.Setenv("HOME", "/home/tern")
	t.Setenv("LocalAppData", "/home/tern/.local/state")
	if got := Folders(); len(got) != 2 || got[0] != filepath.FromSlash("/home/tern/.local/state/wetside/sessions") {
		t.Errorf("folders are %q", got)
	}
}

// Where no laptop has a mark, every id may have been given here.
func TestWithoutAMark(t *testing.T) {
	for _, id := range []string{testID, "2026-11-25T1912-tern-x7k", "12", ""} {
		if !(Store{}).IsFromHere(id) {
			t.Errorf("%q is another's, though none has a mark", id)
		}
	}
	for _, id := range []string{testID, "2026-11-25T1912-tern-x7k-2-a", "2026-11-25T1912-x7k2", "12", ""} {
		if (Store{Laptop: "x7k"}).IsFromHere(id) {
			t.Errorf("%q is ours, and has no mark of ours", id)
		}
	}
}

// An id says whether it was given here, also where several began in one minute, and
// whatever the film is called.
func TestOurs(t *testing.T) {
	at := time.Date(2026, 5, 4, 20, 41, 0, 0, time.UTC)
	here, there := Store{Folders: []string{t.TempDir()}, Laptop: "x7k"}, Store{Folders: []string{t.TempDir()}, Laptop: "h22"}
	for _, film := range []string{"Plover 80", "", "x7k h22"} {
		for range 2 {
			for _, s := range []Store{here, there} {
				id := s.NewID(at, film)
				if !s.IsFromHere(id) {
					t.Errorf("%s: not ours, but given by %s", id, s.Laptop)
				}
				if numbered := (Store{Laptop: "234"}); s.Laptop == "x7k" && !numbered.IsFromHere(numbered.NewID(at, film)) {
					t.Error("a mark of figures is taken for a number of its minute")
				}
				if other := (Store{Laptop: "h22"}); s.Laptop == "x7k" && other.IsFromHere(id) {
					t.Errorf("%s: ours, but given by x7k", id)
				}
				if err := os.WriteFile(filepath.Join(s.Folders[0], id+".jsonl"), nil, 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
