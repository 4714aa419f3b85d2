package recordtest

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// FilmTest is a session that is over: sheets of Plover 200 pulled at those times, the last of which was
// developed for so much longer, as its bath was found a little warm.
func FilmTest(t testing.TB, planned []time.Duration, longer time.Duration) notebook.Session {
	t.Helper()
	r := recipetest.Recipe(sequence.Hangers, len(planned), recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), planned...), recipetest.Bath(sequence.Fix, 5*time.Minute))
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	ended := time.Date(2026, 11, 29, 21, 0, 0, 0, time.UTC)
	began := ended.Add(-time.Hour)
	s := notebook.Session{Summary: notebook.Summary{Head: notebook.Head{ID: "2026-11-29T2000-plover", Recipe: "Film test: Plover 200", Film: "Plover 200", Started: &began, Ended: &ended}}, Plan: &p}
	step := notebook.StepDone{Plan: &p.Steps[0]}
	for k, of := range planned {
		done := of
		if k == len(planned)-1 {
			done += longer
		}
		step.Sheets = append(step.Sheets, notebook.SheetInStep{Sheet: k + 1, Out: of, Given: of, Developed: &engine.Development{Done: done, Of: of}})
	}
	s.Steps = []notebook.StepDone{step}
	return s
}
