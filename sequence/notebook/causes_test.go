package notebook

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
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
	for now := sequence.Elapsed(0); now < 6*recipetest.Minute; now += recipetest.Second {
		s.Do(sequence.Wake{}, now)
	}
	s.Do(sequence.MoveOn{}, 6*recipetest.Minute)
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
		{"thin as planned", nil, []Appearance{Thin}, NoCause, math.Sqrt(1.2)},
		{"dense as planned", nil, []Appearance{Dense}, NoCause, 1 / math.Sqrt(1.2)},
		{"good", nil, []Appearance{Good}, "", 0},
		{"scratched", nil, []Appearance{Scratched}, LargeStack, 0},
		{"uneven", nil, []Appearance{Uneven}, NoCause, 0},
		{"thin and early", early, []Appearance{Thin}, DevelopedOff, 0},
		{"dense and early", early, []Appearance{Dense}, NoCause, 1 / math.Sqrt(1.2)},
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
			if ok != (c.factor != 0) || ok && math.Abs(got.Factor-c.factor) > 1e-9 {
				t.Errorf("correction %+v, %v; want %v", got, ok, c.factor)
			}
		})
	}
}

// A correction by hand: error and doubt are alike, so n looks that agree are n/(n+1) of what they say, give or take
// 1.645 x 0.18/sqrt(n+1) in the logarithm; looks that disagree, and good ones, take it back.
func TestCorrectionsGrowWithAgreement(t *testing.T) {
	s := noted(t, nil, Thin)
	thin := Look{1, math.Log(1.2)}
	for _, c := range []struct {
		alike []Look
		want  float64
	}{
		{nil, math.Log(1.2) / 2}, {[]Look{thin}, math.Log(1.2) * 2 / 3}, {[]Look{thin, thin, thin}, math.Log(1.2) * 4 / 5},
		{[]Look{{1, -math.Log(1.2)}}, 0}, {[]Look{{1, 0}}, math.Log(1.2) / 3},
		{[]Look{{1.2, 0}}, math.Log(1.2) * 2 / 3}, // a fifth longer was right another time
	} {
		s.Alike = c.alike
		got, ok := s.Correction()
		n := float64(len(c.alike) + 1)
		half := 1.645 * 0.18 / math.Sqrt(n+1)
		if !ok || math.Abs(math.Log(got.Factor)-c.want) > 1e-9 || math.Abs(math.Log(got.Low)-c.want+half) > 1e-9 || math.Abs(math.Log(got.High)-c.want-half) > 1e-9 || got.Looks != int(n) {
			t.Errorf("%v: %+v (%v); expected exp(%.4f ± %.4f)", c.alike, got, ok, c.want, half)
		}
	}
}

// Less development explains thin negatives from 5% of gradient on: with 1 - exp(-0.1 t) at 10 min that is 8.2% less
// time ((1 - exp(-0.918))/(1 - exp(-1)) = 0.950); without a growth 5/0.58 = 8.6%.
func TestOnlyWhatCanBeSeenExplains(t *testing.T) {
	for _, c := range []struct {
		growth *sequence.Growth
		share  float64
		seen   bool
	}{{nil, 0.92, false}, {nil, 0.91, true}, {&sequence.Growth{Limit: 1.2, K: 0.1}, 0.92, false}, {&sequence.Growth{Limit: 1.2, K: 0.1}, 0.915, true},
		{&sequence.Growth{Limit: 1.2, K: 0.4}, 0.80, false}} {
		st := sequence.PlanStep{Step: sequence.Step{Kind: sequence.Develop, Growth: c.growth}, Dose: 10 * recipetest.Minute}
		s := Session{Plan: &sequence.Plan{Steps: []sequence.PlanStep{st}}}
		if s.canBeSeen(c.share) != c.seen {
			t.Errorf("%.3f of the development is %.4f of gradient; seen: expected %v", c.share, s.gradientChange(c.share), c.seen)
		}
	}
}

// The looks of sessions like one are gathered from the notebook; not its own, and not of another film.
func TestLooksAreGathered(t *testing.T) {
	store := sessiontest.NewStore(t)
	var last string
	for i, looks := range [][]Appearance{{Thin}, {Good}, nil, {Thin}} {
		last = sessiontest.Begin(t, store, time.Duration(i)*time.Hour, sessiontest.SixInTray(), sequence.Conditions{}).Finish()
		if looks != nil {
			if err := AddNote(store, last, Note{Written: sessiontest.Evening.Add(24 * time.Hour), Appearances: looks}); err != nil {
				t.Fatal(err)
			}
		}
	}
	other := sessiontest.SixInTray()
	other.Film.Name = "Tern 125"
	strange := sessiontest.Begin(t, store, 9*time.Hour, other, sequence.Conditions{}).Finish()
	if err := AddNote(store, strange, Note{Written: sessiontest.Evening.Add(24 * time.Hour), Appearances: []Appearance{Dense}}); err != nil {
		t.Fatal(err)
	}
	s, err := OpenWithLooks(store, last)
	if err != nil || len(s.Alike) != 2 {
		t.Fatalf("%d looks gathered (%v): %v; expected two", len(s.Alike), err, s.Alike)
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
	if err := os.WriteFile(filepath.Join(away, id+".jsonl"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Archive(store, id); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("%v", err)
	}
	if _, err := Open(store, id); err != nil {
		t.Errorf("after a refusal: %v", err)
	}
}
