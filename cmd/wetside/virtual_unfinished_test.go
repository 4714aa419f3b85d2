package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

// A session that was cut off is offered; one that another laptop gave its name, and a
// shared folder brought, is said to be that laptop's.
func TestUnfinishedSessionsSayWhoseTheyAre(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	if s := runVirtually(t, nil, "run", "plover-tray", "--plain", "--rehearse", "1000", "--sound", "off"); s.status != app.ExitOK {
		t.Fatalf("status %d: %s", s.status, &s.err)
	}
	store := journal.Default()
	ids := store.IDs()
	if len(ids) != 1 {
		t.Fatalf("sessions %q", ids)
	}
	path := filepath.Join(store.Folders[0], ids[0]+".jsonl")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	cut := bytes.Join(bytes.SplitAfter(text, []byte("\n"))[:3], nil)
	other := strings.TrimSuffix(path, store.Laptop+".jsonl") + "zz" + string(store.Laptop[0]) + ".jsonl"
	for _, to := range []string{path, other} {
		if err := os.WriteFile(to, cut, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	first, err := store.Read(ids[0])
	if err != nil {
		t.Fatal(err)
	}
	began := first.First().Clock.Wall
	h := &backend.SessionRunner{Env: &app.Env{Clock: clock.NewSimulated(func() time.Time { return began })}}
	list := h.Unfinished()
	if len(list) != 2 {
		t.Fatalf("offered %v", list)
	}
	held, err := store.Lock(ids[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range h.Unfinished() {
		if u.Running != (u.ID == ids[0]) {
			t.Errorf("%s: running %v", u.ID, u.Running)
		}
	}
	held.Release()
	for _, u := range list {
		if u.Running {
			t.Errorf("%s: running, and nobody has it", u.ID)
		}
		if u.Elsewhere != (u.ID != ids[0]) {
			t.Errorf("%s: elsewhere %v", u.ID, u.Elsewhere)
		}
	}
}
