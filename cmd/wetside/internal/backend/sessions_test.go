package backend

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
)

// A session whose record is damaged in its third line is offered by what the second left, and
// one that was damaged where it began is not: nothing is known of it.
func TestADamagedSessionIsOffered(t *testing.T) {
	hometest.New(t)
	r := &SessionRunner{Env: &app.Env{Clock: clock.System()}}
	recipe, err := recipes.Find("tern-hangers", "")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := planning.Resolve(recipe, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, broken := range []int{0, 1, 3} {
		began := clock.System().Read()
		id := journal.Default().NewID(began.Wall, "tern")
		w, err := journal.Default().Create(id, journal.Record{Event: sequence.Event{Kind: sequence.SessionBegan}, Plan: &plan, Clock: began})
		if err != nil {
			t.Fatal(err)
		}
		for i, note := range []string{"gulls", "terns", "knots"} {
			if err := w.Append(journal.Record{Seq: i + 1, Event: sequence.Event{Kind: sequence.Noted, Text: note}, Clock: began}); err != nil {
				t.Fatal(err)
			}
		}
		w.Close()
		path := filepath.Join(journal.Default().Folders[0], id+".jsonl")
		text, _ := os.ReadFile(path)
		lines := bytes.SplitAfter(text, []byte("\n"))
		if broken > 0 {
			lines[broken-1][len(lines[broken-1])/2]++
		}
		os.WriteFile(path, bytes.Join(lines, nil), 0o600)
		list := r.Unfinished()
		switch {
		case broken == 1 && len(list) != 0:
			t.Errorf("without a beginning: %+v", list)
		case broken != 1 && (len(list) != 1 || list[0].ID != id || time.Since(list[0].Began) > time.Minute):
			t.Errorf("line %d: %+v", broken, list)
		case broken == 0 && list[0].Damaged != nil:
			t.Errorf("whole: %+v", list[0].Damaged)
		case broken == 3 && (list[0].Damaged == nil || list[0].Damaged.Line != 3 || len(list[0].Damaged.Plan.Steps) != len(plan.Steps)):
			t.Errorf("damaged: %+v", list[0].Damaged)
		}
		os.Remove(path)
	}
}
