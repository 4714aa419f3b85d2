package holders

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// A sheet's fate is the first session after its exposure that brought it into the
// fixer; rehearsals and sessions stopped before that are not.
func TestFates(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := sessiontest.SixInTray()
	r.Load.Names = []string{"1A", "1B", "2A", "2B", "3A", "3B"}
	early := sessiontest.Begin(t, store, 0, r, sequence.Conditions{}).Finish()
	late := sessiontest.Begin(t, store, 48*time.Hour, r, sequence.Conditions{}).Finish()
	sessiontest.BeginAs(t, store, 24*time.Hour, r, sequence.Conditions{}, 60).Finish()
	stopped := sessiontest.Begin(t, store, 20*time.Hour, r, sequence.Conditions{})
	stopped.Do(sequence.EndSession{}, recipetest.Minute)
	stopped.Close()
	sheets := []ExposedSheet{
		{Holder: "1", Side: "A", Film: "Plover 80", Exposed: sessiontest.Evening.Add(-time.Hour)},
		{Holder: "1", Side: "A", Film: "Plover 80", Exposed: sessiontest.Evening.Add(12 * time.Hour)},
		{Holder: "3", Side: "B", Film: "Plover 80"},
		{Holder: "3", Side: "B", Film: "Tern 125"},
		{Holder: "4", Side: "A", Film: "Plover 80"},
	}
	got := Outcomes(sheets, notebook.List(store))
	want := []Outcome{{early, 1}, {late, 1}, {early, 6}, {}, {}}
	if !slices.Equal(got, want) {
		t.Errorf("%v; want %v", got, want)
	}
}
