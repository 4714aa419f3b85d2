package say

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// carriedOut is a session of six sheets in a tray, with a note on its negatives.
func carriedOut(t *testing.T, carry func(*sessiontest.Session), looks ...notebook.Appearance) notebook.Session {
	t.Helper()
	store := sessiontest.NewStore(t)
	s := sessiontest.Begin(t, store, 0, sessiontest.SixInTray(), sequence.Conditions{})
	carry(s)
	id := s.Finish()
	if err := notebook.AddNote(store, id, notebook.Note{Written: sessiontest.Evening.Add(24 * time.Hour), Appearances: looks}); err != nil {
		t.Fatal(err)
	}
	told, err := notebook.Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return told
}

func TestCompared(t *testing.T) {
	a := carriedOut(t, func(*sessiontest.Session) {}, notebook.Thin)
	b := carriedOut(t, func(s *sessiontest.Session) {
		s.Do(sequence.AddNote{Text: "sheet 2 stuck"}, 3*recipetest.Minute)
		s.Do(sequence.MoveOn{}, 6*recipetest.Minute)
	}, notebook.Good)
	rows := map[string]ComparedRow{}
	for _, r := range Compared(&a, &b, sequence.Units{}) {
		rows[r.Label] = r
	}
	for what, want := range map[string]ComparedRow{
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
func TestComparedLikeWithLike(t *testing.T) {
	plan := func(name string, temp chem.Celsius, given ...sequence.Elapsed) notebook.Session {
		st := &sequence.PlanStep{Step: sequence.Step{Name: name, Kind: sequence.Develop}}
		wash := &sequence.PlanStep{Step: sequence.Step{Name: "wash", Kind: sequence.Wash}}
		s := notebook.Session{Plan: &sequence.Plan{Conditions: sequence.Conditions{BathTemperature: &temp}}, Steps: []notebook.StepDone{{Plan: st}, {Plan: wash}}}
		for k, d := range given {
			s.Steps[0].Sheets = append(s.Steps[0].Sheets, notebook.SheetInStep{Sheet: k + 1, Given: d})
		}
		return s
	}
	read := chem.Celsius(21.5)
	a, b := plan("develop", 20, 5*recipetest.Minute, 7*recipetest.Minute), plan("A", 24, 6*recipetest.Minute, 6*recipetest.Minute)
	a.Readings = []sequence.Event{{Temperature: &read}}
	b.Status = journal.Stopped
	var got []ComparedRow
	for _, r := range Compared(&a, &b, sequence.Units{}) {
		switch strings.TrimSpace(r.Label) {
		case "planned at", "first reading", "develop, A", "develop", "A", "sheet 1", "sheet 2", "outcome":
			got = append(got, r)
		}
	}
	h := sequence.Units{}
	want := []ComparedRow{{"planned at", Reading(20, h), Reading(24, h)}, {"first reading", Reading(21.5, h), ""},
		{"develop, A", "5:00 to 7:00", "6:00"}, {"  sheet 1", "5:00", "6:00"}, {"  sheet 2", "7:00", "6:00"}, {"outcome", "", "ended early"}}
	if !slices.Equal(got, want) {
		t.Errorf("got %q;\nwant %q", got, want)
	}
}
