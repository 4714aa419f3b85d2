package main

// Plain mode and the cues in virtual time: a hand that types at known moments.

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
)

// types sends a line at each of these times since the start.
func types(lines map[time.Duration]string) func(io.Writer) {
	return func(typed io.Writer) {
		var times []time.Duration
		for at := range lines {
			times = append(times, at)
		}
		slices.Sort(times)
		began := time.Now()
		for _, at := range times {
			time.Sleep(time.Until(began.Add(at)))
			fmt.Fprintln(typed, lines[at])
		}
	}
}

// at finds when the n-th event of a kind in a step happened; the test fails where there is none.
func at(t *testing.T, events []sequence.Event, k sequence.EventKind, step string, n int) sequence.Elapsed {
	t.Helper()
	for _, e := range events {
		if e.Kind == k && (step == "" || e.Step == step) {
			if n--; n == 0 {
				return e.At
			}
		}
	}
	t.Fatalf("no %s of %q", k, step)
	return 0
}

// A hand at work on the tank with four times of ten, one, five and ten minutes and
// one: moved on early by a minute, taken back five seconds later, held over the end
// of development for 30 s, and after eleven seconds there is nothing to take back.
// What moved late makes the rest late: a minute of stop, five of fix, ten of wash.
func TestAHandAtWork(t *testing.T) {
	hometest.New(t)
	const m, s = time.Minute, time.Second
	got := runVirtually(t, types(map[time.Duration]string{
		9 * m: "next", 9*m + 5*s: "undo", 9*m + 30*s: "hold", 10*m + 30*s: "go", 10*m + 42*s: "undo", 11 * m: "note drip tray",
	}), "run", "curlew-tank", "--plain", "--json", "--sound", "off")
	if got.status != app.ExitOK || got.err.String() != "wetside: undo: Nothing was done in the last ten seconds\n" {
		t.Errorf("status %d, stderr %q", got.status, &got.err)
	}
	events := eventsOf(t, got.out.Bytes())
	for _, want := range []struct {
		kind sequence.EventKind
		step string
		n    int
		at   time.Duration
	}{
		{sequence.StepEnded, "develop", 1, 9 * m}, {sequence.StepBegan, "stop", 1, 9 * m}, {sequence.Undone, "", 1, 9*m + 5*s},
		{sequence.Held, "", 1, 9*m + 30*s}, {sequence.Overran, "develop", 1, 10 * m}, {sequence.HoldEnded, "", 1, 10*m + 30*s},
		{sequence.StepEnded, "develop", 2, 10*m + 30*s}, {sequence.StepBegan, "stop", 2, 10*m + 30*s}, {sequence.Noted, "", 1, 11 * m},
		{sequence.StepBegan, "fix", 1, 11*m + 30*s}, {sequence.StepBegan, "wash", 1, 19 * m}, // rinsed 30 s, in the washing aid 2 min
		{sequence.StepBegan, "wetting", 1, 26*m + 30*s}, {sequence.SessionDone, "", 1, 27*m + 30*s},
	} {
		if at := at(t, events, want.kind, want.step, want.n); at != want.at {
			t.Errorf("%s %s %d at %v; want %v", want.kind, want.step, want.n, at, want.at)
		}
	}
	var overdue []time.Duration
	for _, e := range events {
		if e.Kind == sequence.CueGiven && e.Cue == sequence.CueOverdue {
			overdue = append(overdue, e.At)
		}
	}
	if want := []time.Duration{10*m + 10*s, 10*m + 20*s}; !slices.Equal(overdue, want) && !slices.Equal(overdue, append(want, 10*m+30*s)) {
		t.Errorf("time is up, holding: said at %v; want every ten seconds from %v", overdue, want)
	}
}

// A film test: the first sheet is pulled ten seconds early; the second, which the
// record moved on, was still in the developer, and comes out when the hand says go.
func TestTakingOut(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	const m, s = time.Minute, time.Second
	got := runVirtually(t, types(map[time.Duration]string{5*m + 50*s: "take-out", 8*m + 10*s: "late 2", 8*m + 20*s: "go"}),
		"run", "plover-film-test", "--plain", "--json", "--sound", "off")
	if got.status != app.ExitOK || got.err.Len() > 0 {
		t.Errorf("status %d, stderr %q", got.status, &got.err)
	}
	events := eventsOf(t, got.out.Bytes())
	// a minute of presoak, then sheets after 5, 7, 9:30 and 13 minutes
	for n, want := range []time.Duration{5*m + 50*s, 8 * m, 8*m + 20*s, 10*m + 30*s, 14 * m} {
		if at := at(t, events, sequence.Pulled, "develop", n+1); at != want {
			t.Errorf("taking out %d at %v; want %v", n+1, at, want)
		}
	}
	if at := at(t, events, sequence.LateReported, "", 1); at != 8*m+10*s {
		t.Errorf("late at %v", at)
	}
}

// cues plays every cue and signal once, in the order of its list, each after the one before.
func TestCuesArePlayed(t *testing.T) {
	hometest.New(t)
	file := filepath.Join(t.TempDir(), "all.wav")
	got := runVirtually(t, nil, "cues", "--sound", "wav:"+file)
	if got.status != app.ExitOK || got.err.Len() > 0 {
		t.Fatalf("status %d, stderr %q", got.status, &got.err)
	}
	lines := strings.Split(strings.TrimSpace(got.out.String()), "\n")
	if len(lines) != 1+len(cue.Kinds()) || !strings.HasPrefix(lines[0], "sound: wav") {
		t.Fatalf("told:\n%s", &got.out)
	}
	found, _ := onsets(t, file)
	began := time.Duration(0)
	for i, k := range cue.Kinds() {
		if name, says, ok := strings.Cut(lines[i+1], " "); !ok || name != string(k) || strings.TrimSpace(says) != cue.Describe(k) {
			t.Errorf("line %d is %q; want %s", i+1, lines[i+1], k)
		}
		// A file is written a quarter of a second behind, so "at once" is in frames before.
		from, to := int64((began-350*time.Millisecond).Seconds()*rate), int64(began.Seconds()*rate)
		if j, _ := slices.BinarySearch(found, from); j == len(found) || found[j] > to+near {
			t.Errorf("%s: no onset at %v", k, began)
		}
		began += cue.Length(k) + running.AfterCue
	}
}
