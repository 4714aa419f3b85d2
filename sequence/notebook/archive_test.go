package notebook_test

import (
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/sessiontest"
)

// What was put away is in a store of its own: listed and opened there, and nowhere else.
func TestArchivedStore(t *testing.T) {
	store := sessiontest.NewStore(t)
	id := sessiontest.Begin(t, store, 0, sessiontest.SixInTray(), sequence.Conditions{}).Finish()
	if list := notebook.List(notebook.ArchivedStore(store)); len(list) != 0 {
		t.Fatalf("%d are archived", len(list))
	}
	if err := notebook.Archive(store, id); err != nil {
		t.Fatal(err)
	}
	away := notebook.ArchivedStore(store)
	if list := notebook.List(away); len(list) != 1 || list[0].ID != id || len(notebook.List(store)) != 0 {
		t.Errorf("%+v", list)
	}
	if s, err := notebook.Open(away, id); err != nil || s.Plan == nil {
		t.Errorf("%v", err)
	}
	if err := notebook.Restore(store, id); err != nil {
		t.Fatal(err)
	}
	if len(notebook.List(away)) != 0 || len(notebook.List(store)) != 1 {
		t.Error("restored, and still listed as archived")
	}
}
