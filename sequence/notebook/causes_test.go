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

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
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
		says   string
		factor float64 // 0 for none
	}{
		{"thin as planned", nil, []Appearance{Thin}, "Negatives thin: the record shows no cause", 1.2},
		{"dense as planned", nil, []Appearance{Dense}, "Negatives dense: the record shows no cause", 1 / 1.2},
		{"good", nil, []Appearance{Good}, "", 0},
		{"scratched", nil, []Appearance{Scratched}, "6 sheets were shuffled in one tray", 0},
		{"uneven", nil, []Appearance{Uneven}, "Negatives uneven: the record shows no cause", 0},
		{"thin and early", early, []Appearance{Thin}, "% of the planned development (100% is right)", 0},
		{"dense and early", early, []Appearance{Dense}, "Negatives dense: the record shows no cause", 1 / 1.2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := noted(t, c.carry, c.looks...)
			all := strings.Join(s.Suggestions, "\n")
			if c.says != "" && !strings.Contains(all, c.says) {
				t.Errorf("%q is not said in:\n%s", c.says, all)
			}
			if c.says == "" && strings.Contains(all, "Negatives") {
				t.Errorf("said of good negatives:\n%s", all)
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

func TestCompare(t *testing.T) {
	a := noted(t, nil, Thin)
	b := noted(t, func(s *sessiontest.Session) {
		s.Do(sequence.AddNote{Text: "sheet 2 stuck"}, 3*sessiontest.Minute)
		early(s)
	}, Good)
	rows := map[string]Row{}
	for _, r := range Compare(&a, &b, sequence.Units{}) {
		rows[r.Label] = r
	}
	for what, want := range map[string]Row{
		"develop":   {"develop", "8:00", rows["develop"].B},
		"film":      {"film", "Plover 80", "Plover 80"},
		"negatives": {"negatives", "thin", "good"},
		"notes":     {"notes", "", "sheet 2 stuck"},
	} {
		if rows[what] != want {
			t.Errorf("%s: %+v; want %+v", what, rows[what], want)
		}
	}
	if !rows["develop"].Differs() || rows["film"].Differs() || rows["develop"].B == "" {
		t.Errorf("develop %+v, film %+v", rows["develop"], rows["film"])
	}
	if rows["development"].A != "100%" {
		t.Errorf("development %q", rows["development"].A)
	}
}

// Like stands beside like: what was read beside what was read, not beside what was
// planned; a step of another name beside the one of its kind; sheet beside sheet.
func TestCompareLikeWithLike(t *testing.T) {
	plan := func(name string, temp chem.Celsius, given ...sequence.Elapsed) Session {
		st := &sequence.PlanStep{Step: sequence.Step{Name: name, Kind: sequence.Develop}}
		wash := &sequence.PlanStep{Step: sequence.Step{Name: "wash", Kind: sequence.Wash}}
		s := Session{Plan: &sequence.Plan{Conditions: sequence.Conditions{BathTemperature: &temp}}, Steps: []StepDone{{Plan: st}, {Plan: wash}}}
		for k, d := range given {
			s.Steps[0].Sheets = append(s.Steps[0].Sheets, SheetInStep{Sheet: k + 1, Given: d})
		}
		return s
	}
	read := chem.Celsius(21.5)
	a, b := plan("develop", 20, 5*sessiontest.Minute, 7*sessiontest.Minute), plan("A", 24, 6*sessiontest.Minute, 6*sessiontest.Minute)
	a.Readings = []sequence.Event{{Temperature: &read}}
	b.Status = journal.Stopped
	var got []Row
	for _, r := range Compare(&a, &b, sequence.Units{}) {
		switch strings.TrimSpace(r.Label) {
		case "planned at", "first reading", "develop, A", "develop", "A", "sheet 1", "sheet 2", "outcome":
			got = append(got, r)
		}
	}
	h := sequence.Units{}
	want := []Row{{"planned at", h.ToTenth(20), h.ToTenth(24)}, {"first reading", h.ToTenth(21.5), ""},
		{"develop, A", "5:00 to 7:00", "6:00"}, {"  sheet 1", "5:00", "6:00"}, {"  sheet 2", "7:00", "6:00"}, {"outcome", "", "ended early"}}
	if !slices.Equal(got, want) {
		t.Errorf("got %q;\nwant %q", got, want)
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
