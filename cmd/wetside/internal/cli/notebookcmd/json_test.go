package notebookcmd

// What has not happened is null in the notebook's JSON.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

func TestWhatHasNotHappenedIsNull(t *testing.T) {
	plan := &sequence.PlanStep{Step: sequence.Step{Name: "fix"}}
	still := asStepJSON(&notebook.StepDone{Plan: plan, Start: 300 * time.Second, FirstOut: sequence.Never, LastOut: sequence.Never,
		Sheets: []notebook.SheetInStep{{Sheet: 1, In: 300 * time.Second, Out: sequence.Never, Given: 60 * time.Second}}})
	if a := still.Actual; a == nil || a.Start != 300*time.Second || a.Time != 60*time.Second {
		t.Errorf("still in: %+v", still)
	}
	if text, err := sequence.MarshalReport(still); err != nil || !strings.Contains(string(text), `"actual":{"start_s":300,"moves_s":null,"end_s":null,"time_s":60}`) ||
		!strings.Contains(string(text), `"out_s":null,"time_s":60,"development_percent":null`) {
		t.Errorf("still in: %s, %v", text, err)
	}
	if never := asStepJSON(&notebook.StepDone{Plan: plan, Start: sequence.Never}); never.Actual != nil || never.Bath != "" {
		t.Errorf("not begun: %+v", never)
	}
	empty := asSessionJSON(&notebook.Session{Summary: notebook.Summary{Head: notebook.Head{ID: "x"}}})
	text, err := sequence.MarshalReport(empty)
	want := `{"id":"x","recipe":null,"film":null,"started":null,"ended":null,"status":null,"rehearsal":false,"vessel":null,"sheets":0,` +
		`"newer":false,"problem":null,"steps":[],"readings":[],"notes":[],"wet":null,"emulsion":null,"events":[],"gaps":[],"holds":[],` +
		`"cues_missed":[],"suggestions":[],"densities":[],"learnt":null}`
	if err != nil || string(text) != want {
		t.Errorf("%s\nwant %s (%v)", text, want, err)
	}
}
