package running

// A session asked for by another process, and let go.

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/sequence/sessiontest"
)

// running is a session with its journal.
func running(t *testing.T) (journal.Store, string, *live.Session) {
	t.Helper()
	store := journal.Store{Folders: []string{t.TempDir()}}
	plan := sessiontest.StarterPlan(t, "tern-hangers", sequence.Conditions{})
	const id = "2031-05-04T2110-tern"
	s, err := live.Start(live.Options{Plan: plan, Clock: clock.New(clock.System(), 0, 1),
		FirstCommand: sequence.Begin{ID: id, Version: "test"}, FirstRecord: journal.Record{Plan: plan}})
	if err != nil {
		t.Fatal(err)
	}
	w, err := store.ReserveID(id)
	if err != nil {
		t.Fatal(err)
	}
	s.KeepJournal(w)
	t.Cleanup(s.Close)
	for until := time.Now().Add(time.Minute); ; time.Sleep(time.Millisecond) {
		if kept, err := store.Read(id); err == nil && len(kept.Records) > 0 {
			return store, id, s
		}
		if time.Now().After(until) {
			t.Fatal("no journal")
		}
	}
}

// other is the number of a living process that is not this one.
func other(t *testing.T) int {
	t.Helper()
	cmd := exec.Command("sleep", "60")
	if err := cmd.Start(); err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	return cmd.Process.Pid
}

func TestHandOver(t *testing.T) {
	store, id, s := running(t)
	pid := other(t)
	if takeRequest(store, id) {
		t.Fatal("asked for by nobody")
	}
	first := make(chan struct{}) // what the first wetside does, in this process
	go func() {
		defer close(first)
		name := filepath.Join(store.Folders[0], requestFile(id))
		for {
			if _, err := os.Stat(name); err == nil {
				break
			}
			time.Sleep(time.Millisecond)
		}
		os.WriteFile(name, fmt.Appendln(nil, pid), 0o600) // as if that process had asked
		if !takeRequest(store, id) {
			t.Error("the request is not seen")
		}
		if takeRequest(store, id) {
			t.Error("one request is seen twice")
		}
		handOver(s)
	}()
	w, kept, err := takeWithHandover(store, id, true)
	<-first
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	last := kept.Records[len(kept.Records)-1].Event.Kind
	if last != sequence.HandedOver || kept.Status != journal.Open {
		t.Errorf("taken up behind %q, status %s; want handed-over, open", last, kept.Status)
	}
	if _, err := os.Stat(filepath.Join(store.Folders[0], requestFile(id))); err == nil {
		t.Error("the request was left behind")
	}
}

// A session that nobody holds is taken up at once and nothing is asked.
func TestTakeOverOfAFreeSession(t *testing.T) {
	store, id, s := running(t)
	s.Close()
	w, _, err := takeWithHandover(store, id, true)
	if err != nil {
		t.Fatal(err)
	}
	w.Close()
	if _, _, err := takeWithHandover(store, "2031-05-04T2110-none", true); err == nil {
		t.Error("a session that is not there was taken up")
	}
}

func TestRequestsThatAreNotHeeded(t *testing.T) {
	store, id, _ := running(t)
	name := filepath.Join(store.Folders[0], requestFile(id))
	gone := exec.Command("true")
	if err := gone.Run(); err != nil {
		t.Skip(err)
	}
	pid := other(t)
	for what, c := range map[string]struct {
		text string
		age  time.Duration
	}{
		"our own":    {fmt.Sprintln(os.Getpid()), 0},
		"a dead":     {fmt.Sprintln(gone.Process.Pid), 0},
		"an old":     {fmt.Sprintln(pid), time.Minute},
		"from ahead": {fmt.Sprintln(pid), -time.Hour},
		"empty":      {"", 0},
		"words":      {"please", 0},
		"all of us":  {"-1\n", 0},
		"zero":       {"0\n", 0},
	} {
		if err := os.WriteFile(name, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		at := time.Now().Add(-c.age)
		if err := os.Chtimes(name, at, at); err != nil {
			t.Fatal(err)
		}
		if takeRequest(store, id) {
			t.Errorf("%s request was heeded", what)
		}
		if _, err := os.Stat(name); err == nil {
			t.Errorf("%s request was left lying", what)
		}
	}
	if err := os.WriteFile(name, fmt.Appendln(nil, pid), 0o600); err != nil || !takeRequest(store, id) {
		t.Errorf("a good request was not heeded (%v)", err)
	}
}

func TestHolderThatDoesNotAnswer(t *testing.T) {
	if os.Getenv("WETSIDE_E2E") != "1" {
		t.Skip("takes 8 s; WETSIDE_E2E=1 runs it")
	}
	store, id, _ := running(t)
	_, _, err := takeWithHandover(store, id, true)
	held := (*journal.HeldError)(nil)
	if !errors.As(err, &held) || held.PID != os.Getpid() {
		t.Errorf("%v; want the holder's number", err)
	}
	if _, err := os.Stat(filepath.Join(store.Folders[0], requestFile(id))); err == nil {
		t.Error("the request was not withdrawn")
	}
}
