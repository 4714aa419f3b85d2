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
)

// six shuffled sheets, developed at 20 C for eight minutes.
func six() sequence.Recipe {
	return recipe(sequence.Tray, 6, shuffled(step(sequence.Presoak, 2*mins)), warmed(shuffled(step(sequence.Develop, 8*mins))),
		step(sequence.StopBath, 30*sec), step(sequence.Fix, 5*mins))
}

func noted(t *testing.T, carry func(*sitting), looks ...Look) Session {
	t.Helper()
	store := newStore(t)
	s := sit(t, store, 0, six(), sequence.Conditions{})
	if carry != nil {
		carry(s)
	}
	id := s.finish()
	if err := Add(store, id, Note{Written: evening.Add(24 * time.Hour), Looks: looks}); err != nil {
		t.Fatal(err)
	}
	return opened(t, store, id)
}

// early moves the stack out of the developer long before its time.
func early(s *sitting) {
	for now := sequence.Elapsed(0); now < 6*mins; now += sec {
		s.do(sequence.Wake{}, now)
	}
	s.do(sequence.MoveOn{}, 6*mins)
}

// What the record explains is told with its numbers, and corrects nothing: the plan
// was right. What it does not explain is not explained away, and asks for a factor.
func TestLooksAndTheirCauses(t *testing.T) {
	for _, c := range []struct {
		name   string
		carry  func(*sitting)
		looks  []Look
		says   string
		factor float64 // 0 for none
	}{
		{"thin as planned", nil, []Look{Thin}, "Negatives thin: the record shows no cause", 1.2},
		{"dense as planned", nil, []Look{Dense}, "Negatives dense: the record shows no cause", 1 / 1.2},
		{"good", nil, []Look{Good}, "", 0},
		{"scratched", nil, []Look{Scratched}, "6 sheets were shuffled in one tray", 0},
		{"uneven", nil, []Look{Uneven}, "Negatives uneven: the record shows no cause", 0},
		{"thin and early", early, []Look{Thin}, "% of the planned development (100% is right)", 0},
		{"dense and early", early, []Look{Dense}, "Negatives dense: the record shows no cause", 1 / 1.2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := noted(t, c.carry, c.looks...)
			all := strings.Join(s.Suggests, "\n")
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
	if err := (Note{Looks: []Look{"sparkling"}}).Check(); err == nil || !strings.Contains(err.Error(), `"sparkling"`) {
		t.Errorf("%v", err)
	}
	var l Later
	l.read([]byte(`{"v":1,"written":"2026-11-25T20:00:00Z","looks":["thin","sparkling"]}` + "\n"))
	if l.Bad != 0 || !slices.Equal(l.Looks(), []Look{Thin}) {
		t.Errorf("%d bad, %v", l.Bad, l.Looks())
	}
}

func TestCompare(t *testing.T) {
	a := noted(t, nil, Thin)
	b := noted(t, func(s *sitting) { s.do(sequence.Remark{Text: "sheet 2 stuck"}, 3*mins); early(s) }, Good)
	rows := map[string]Row{}
	for _, r := range Compare(&a, &b, sequence.Habits{}) {
		rows[r.What] = r
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
		s := Session{Plan: &sequence.Plan{Conditions: sequence.Conditions{Temp: &temp}}, Steps: []Step{{Plan: st}, {Plan: wash}}}
		for k, d := range given {
			s.Steps[0].Sheets = append(s.Steps[0].Sheets, Stay{Sheet: k + 1, Given: d})
		}
		return s
	}
	read := chem.Celsius(21.5)
	a, b := plan("develop", 20, 5*mins, 7*mins), plan("A", 24, 6*mins, 6*mins)
	a.Readings = []sequence.Event{{Temperature: &read}}
	b.Status = journal.Stopped
	var got []Row
	for _, r := range Compare(&a, &b, sequence.Habits{}) {
		switch strings.TrimSpace(r.What) {
		case "planned at", "first reading", "develop, A", "develop", "A", "sheet 1", "sheet 2", "outcome":
			got = append(got, r)
		}
	}
	h := sequence.Habits{}
	want := []Row{{"planned at", h.Tenths(20), h.Tenths(24)}, {"first reading", h.Tenths(21.5), ""},
		{"develop, A", "5:00 to 7:00", "6:00"}, {"  sheet 1", "5:00", "6:00"}, {"  sheet 2", "7:00", "6:00"}, {"outcome", "", "ended early"}}
	if !slices.Equal(got, want) {
		t.Errorf("got %q;\nwant %q", got, want)
	}
}

// A session put away is in no list, comes back whole, and nothing else moves.
func TestPutAwayAndBack(t *testing.T) {
	store := newStore(t)
	id := sit(t, store, 0, six(), sequence.Conditions{}).finish()
	other := sit(t, store, time.Hour, six(), sequence.Conditions{}).finish()
	if err := Add(store, id, Note{Text: "kept with it"}); err != nil {
		t.Fatal(err)
	}
	if err := PutAway(store, id); err != nil {
		t.Fatal(err)
	}
	if list := List(store); len(list) != 1 || list[0].ID != other {
		t.Errorf("listed: %+v", list)
	}
	if _, err := Open(store, id); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("put away and opened: %v", err)
	}
	if got := Away(store); !slices.Equal(got, []string{id}) {
		t.Errorf("away: %q", got)
	}
	if err := BringBack(store, id); err != nil {
		t.Fatal(err)
	}
	if s := opened(t, store, id); len(s.Later.Notes) != 1 {
		t.Errorf("came back with %d notes", len(s.Later.Notes))
	}
	if len(List(store)) != 2 || len(Away(store)) != 0 {
		t.Errorf("%d listed, %q away", len(List(store)), Away(store))
	}
}

// What is not there, what is carried out, what would be written over, and what is no
// id are refused.
func TestPutAwayRefuses(t *testing.T) {
	store := newStore(t)
	for _, id := range []string{"2026-11-25T1912-nothing", "../sessions", "", "a/b"} {
		if err := PutAway(store, id); err == nil {
			t.Errorf("%q was put away", id)
		}
		if err := BringBack(store, id); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%q: %v", id, err)
		}
	}
	running := sit(t, store, 0, six(), sequence.Conditions{})
	if err := PutAway(store, running.id); err == nil {
		t.Error("a session that is being carried out was put away")
	}
	id := running.finish()
	away := filepath.Join(store.Folders[0], awayFolder)
	if err := os.MkdirAll(away, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(away, id+journalSuffix), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := PutAway(store, id); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("%v", err)
	}
	if _, err := Open(store, id); err != nil {
		t.Errorf("after a refusal: %v", err)
	}
}
