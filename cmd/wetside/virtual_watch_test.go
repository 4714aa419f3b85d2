package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/sessiontest"
)

// The plan follows the file: a change, a fault, a file that is gone for a moment; what
// did not change is not shown again, and nothing is while a session is carried out.
func TestPlanFollowsTheFile(t *testing.T) {
	hometest.New(t)
	path := filepath.Join(t.TempDir(), "mine.toml")
	source, _ := recipes.ShippedSource("tern-hangers")
	text := string(source)
	write := func(s string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(s), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(text)
	if s := runVirtually(t, nil, "film", "Tern 125", "--borrow", "9m", "--from", "a forum"); s.status != app.ExitOK {
		t.Fatalf("%s", &s.err)
	}
	synctest.Test(t, func(t *testing.T) {
		var out, faults bytes.Buffer
		stop := make(chan os.Signal, 1)
		p := &app.Env{In: strings.NewReader(""), Out: &out, Err: &faults, Clock: clock.NewSimulated(nil)}
		ended := make(chan error, 1)
		go func() { ended <- cli.WatchPlan(p, path, sequence.RawConditions{}, stop) }()
		step := func(what, want string, do func()) {
			t.Helper()
			do()
			out.Reset()
			time.Sleep(2 * time.Second)
			synctest.Wait()
			switch said := out.String(); {
			case want == "" && said != "":
				t.Errorf("%s: said %q", what, said)
			case !strings.Contains(said, want), want != "" && strings.Count(said, path+", ") != 1:
				t.Errorf("%s: said %q; expected %q, once", what, said, want)
			}
		}
		step("nothing changed", "", func() { time.Sleep(time.Second); synctest.Wait() })
		step("changed", "Mine, at home", func() { write(strings.Replace(text, "Tern 125, eight", "Mine, at home, eight", 1)) })
		step("gone", "", func() { os.Remove(path) })
		step("a fault", "titel", func() { write(strings.Replace(text, "title", "titel", 1)) })
		session := carryOutElsewhere(t, "2026-11-25T1912-tern")
		step("a session is carried out", "", func() { write(text) })
		step("and is over", "Tern 125, eight", func() { session.Close() })
		step("its film is known", "Film's time at 20 °C", func() { write(text + "\n") })
		stop <- os.Interrupt
		if err := <-ended; err != nil || faults.Len() > 0 {
			t.Errorf("%v, %s", err, &faults)
		}
	})
	if s := runVirtually(t, nil, "plan", "tern-hangers", "--watch"); s.status != app.ExitUsage {
		t.Errorf("a shipped recipe was watched: %d, %s", s.status, &s.err)
	}
	if s := runVirtually(t, nil, "plan", path, "--watch", "--json"); s.status != app.ExitUsage {
		t.Errorf("--json was taken: %d", s.status)
	}
	defer carryOutElsewhere(t, "2026-11-25T1913-tern").Close()
	t.Setenv("VISUAL", "true")
	for _, args := range [][]string{{"plan", path, "--watch"}, {"edit", path}, {"new", "at-home", "--from", "tern-hangers"}} {
		if s := runVirtually(t, nil, args...); s.status != app.ExitFailed || !strings.Contains(s.err.String(), "being carried out") {
			t.Errorf("%q lights up a session: %d, %s%s", args, s.status, &s.out, &s.err)
		}
	}
}

// carryOutElsewhere is a session that a writer has open, until it is closed.
func carryOutElsewhere(t *testing.T, id string) io.Closer {
	t.Helper()
	plan := sessiontest.StarterPlan(t, "tern-hangers", sequence.Conditions{})
	w, err := journal.Default().Create(id, journal.Record{Event: sequence.Event{Kind: sequence.SessionBegan}, Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	return w
}
