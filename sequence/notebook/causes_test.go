package notebook

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/sessiontest"
)

func noted(t *testing.T, carry func(*sessiontest.Session), looks ...Appearance) Session {
	t.Helper()
	store := sessiontest.NewStore(t)
	s := sessiontest.Begin(t, store, 0, sessiontest.SixInTray(), sequence.Conditions{})
	if carry != nil {
		carry(s)
	}
	id := s.Finish()
	if err := AddNote(store, id, Note{Written: sessiontest.Evening.Add(24 * time.Hour), Appearances: looks}); err != nil {
		t.Fatal(err)
	}
	return opened(t, store, id)
}

// early moves the stack out of the developer long before its time.
func early(s *sessiontest.Session) {
	for now := sequence.Elapsed(0); now < 6*sessiontest.Minute; now += sessiontest.Second {
		s.Do(sequence.Wake{}, now)
	}
	s.Do(sequence.MoveOn{}, 6*sessiontest.Minute)
}

// What the record explains is told with its numbers, and corrects nothing: the plan
// was right. What it does not explain is not explained away, and asks for a factor.
func TestLooksAndTheirCauses(t *testing.T) {
	for _, c := range []struct {
		name   string
		carry  func(*sessiontest.Session)
		looks  []Appearance
		found  FindingCode // "" for no cause looked for
		factor float64     // 0 for none
	}{
		{"thin as planned", nil, []Appearance{Thin}, NoCause, 1.2},
		{"dense as planned", nil, []Appearance{Dense}, NoCause, 1 / 1.2},
		{"good", nil, []Appearance{Good}, "", 0},
		{"scratched", nil, []Appearance{Scratched}, LargeStack, 0},
		{"uneven", nil, []Appearance{Uneven}, NoCause, 0},
		{"thin and early", early, []Appearance{Thin}, DevelopedOff, 0},
		{"dense and early", early, []Appearance{Dense}, NoCause, 1 / 1.2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := noted(t, c.carry, c.looks...)
			causes := slices.DeleteFunc(slices.Clone(s.Findings), func(f Finding) bool { return f.Look == "" })
			if c.found != "" && (len(causes) != 1 || causes[0].Code != c.found || causes[0].Look != c.looks[0]) {
				t.Errorf("found %+v; want %s", causes, c.found)
			}
			if c.found == "" && len(causes) > 0 {
				t.Errorf("found of good negatives: %+v", causes)
			}
			got, ok := s.Correction()
			if ok != (c.factor != 0) || ok && got.Factor != c.factor {
				t.Errorf("correction %+v, %v; want %v", got, ok, c.factor)
			}
		})
	}
}

// Only looks that there are can be noted; a reader leaves out those it does not know.
func TestLooksAreChecked(t *testing.T) {
	if err := (Note{Appearances: []Appearance{"sparkling"}}).Check(); err == nil || !strings.Contains(err.Error(), `"sparkling"`) {
		t.Errorf("%v", err)
	}
	var l Notes
	l.read([]byte(`{"v":1,"written":"2026-11-25T20:00:00Z","looks":["thin","sparkling"]}` + "\n"))
	if l.Bad != 0 || !slices.Equal(l.Appearances(), []Appearance{Thin}) {
		t.Errorf("%d bad, %v", l.Bad, l.Appearances())
	}
}

// A session put away is in no list, comes back whole, and nothing else moves.
func TestPutAwayAndBack(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, sessiontest.SixInTray(), sequence.Conditions{}).Finish()
	other := sessiontest.Begin(t, store, time.Hour, sessiontest.SixInTray(), sequence.Conditions{}).Finish()
	if err := AddNote(store, id, Note{Text: "kept with it"}); err != nil {
		t.Fatal(err)
	}
	if err := Archive(store, id); err != nil {
		t.Fatal(err)
	}
	if list := List(store); len(list) != 1 || list[0].ID != other {
		t.Errorf("listed: %+v", list)
	}
	if _, err := Open(store, id); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("put away and opened: %v", err)
	}
	if got := Archived(store); !slices.Equal(got, []string{id}) {
		t.Errorf("away: %q", got)
	}
	if err := Restore(store, id); err != nil {
		t.Fatal(err)
	}
	if s := opened(t, store, id); len(s.NotesAfter.List) != 1 {
		t.Errorf("came back with %d notes", len(s.NotesAfter.List))
	}
	if len(List(store)) != 2 || len(Archived(store)) != 0 {
		t.Errorf("%d listed, %q away", len(List(store)), Archived(store))
	}
}

// What is not there, what is carried out, what would be written over, and what is no
// id are refused.
func TestPutAwayRefuses(t *testing.T) {
	store := sessiontest.NewStore(t)
	for _, id := range []string{"2026-11-25T1912-nothing", "../sessions", "", "a/b"} {
		if err := Archive(store, id); err == nil {
			t.Errorf("%q was put away", id)
		}
		if err := Restore(store, id); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%q: %v", id, err)
		}
	}
	running := sessiontest.Begin(t, store, 0, sessiontest.SixInTray(), sequence.Conditions{})
	if err := Archive(store, running.Id); err == nil {
		t.Error("a session that is being carried out was put away")
	}
	id := running.Finish()
	away := filepath.Join(store.Folders[0], archiveFolder)
	if err := os.MkdirAll(away, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(away, id+journalSuffix), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Archive(store, id); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("%v", err)
	}
	if _, err := Open(store, id); err != nil {
		t.Errorf("after a refusal: %v", err)
	}
}
