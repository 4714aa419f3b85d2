package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// A bath that warms from 20 to 25 C, seen by a sensor as the kernel writes it,
// ends its developing step when scipy says so (the output of testdata/ramp.py; the
// file is up to half a second old when it is read); what that changes is heard, tone
// and words; and the journal holds each reading.
func TestSensorThatWarmsEndsTheStepWhenScipySays(t *testing.T) {
	if ownProcess(t) {
		return
	}
	const scipy = 506.669
	hometest.New(t)
	file := filepath.Join(t.TempDir(), "temp1_input")
	write := func(milli int) {
		next := file + ".next" // a reader finds all of it or all of the last
		if err := os.WriteFile(next, fmt.Appendln(nil, milli), 0o600); err != nil {
			t.Error(err)
		}
		if err := os.Rename(next, file); err != nil {
			t.Error(err)
		}
	}
	write(20000)
	wav := filepath.Join(t.TempDir(), "warming.wav")
	s := runVirtually(t, func(io.Writer) {
		began := time.Now()
		for time.Since(began) < 10*time.Minute {
			time.Sleep(500 * time.Millisecond)
			write(20000 + int(math.Round(5000*time.Since(began).Seconds()/600)))
		}
	}, "run", "tern-hangers", "--plain", "--json", "--sound", "wav:"+wav, "--voice", "sparse", "--thermometer", file)
	if s.status != app.ExitOK {
		t.Fatalf("status %d: %s", s.status, &s.err)
	}
	var ended float64
	var told, cues []sequence.Event
	readings := 0
	for _, e := range eventsOf(t, s.out.Bytes()) {
		if e.Kind == sequence.CueGiven {
			cues = append(cues, e)
		}
		switch {
		case e.Kind == sequence.StepEnded && e.Step == "develop":
			ended = e.At.Seconds()
		case e.Kind == sequence.ReadingTaken && e.Source == sequence.BySensor:
			readings++
		case e.Kind == sequence.CueGiven && e.Cue == sequence.CueReading:
			told = append(told, e)
		}
	}
	if math.Abs(ended-scipy) > 0.2 {
		t.Errorf("developing ended at %.3f s; scipy says %.3f", ended, scipy)
	}
	// 600 s planned, 507 s in the end: a change of ten seconds each time is told
	// about nine times.
	if len(told) < 5 || len(told) > 12 {
		t.Errorf("the change was told %d times", len(told))
	}
	for _, e := range told {
		if e.Change > -10*time.Second || e.Change < -12*time.Second {
			t.Errorf("at %v a change of %v was told; expected as soon as it exceeds ten seconds", e.At, e.Change)
		}
	}
	spokenAfter(t, wav, told, cues)
	if readings < 480 {
		t.Errorf("%d readings told; one a second was expected", readings)
	}
	if kept := only(t).Readings; len(kept) != readings {
		t.Errorf("the journal holds %d readings; %d were told", len(kept), readings)
	} else if first, last := *kept[0].Temperature, *kept[len(kept)-1].Temperature; first != 20 || last < 24 {
		t.Errorf("the journal's readings go from %v to %v; expected 20 to what the bath was at the end", first, last)
	}
}

// only is the one session of this home as its journal has it.
func only(t *testing.T) notebook.Session {
	t.Helper()
	list := journal.Default().List()
	if len(list) != 1 {
		t.Fatalf("%d sessions; expected one", len(list))
	}
	s, err := notebook.Open(journal.Default(), list[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// spokenAfter wants in a recording the tone of each cue that told something, and words
// behind it, which may have to wait for tones that come first: sound where only the
// voice can be its cause.
func spokenAfter(t *testing.T, file string, told, cues []sequence.Event) {
	t.Helper()
	found, _ := onsets(t, file)
	for _, e := range told {
		at, words := int64(math.Round(e.At.Seconds()*rate)), 0
		tone := slices.ContainsFunc(found, func(f int64) bool { return f >= at-near && f <= at+rate/2 })
		for _, f := range found {
			tones := slices.ContainsFunc(cues, func(c sequence.Event) bool {
				cue := int64(math.Round(c.At.Seconds() * rate))
				return f >= cue-near && f <= cue+rate
			})
			if !tones && f > at && f < at+20*rate {
				words++
			}
		}
		if !tone || words == 0 {
			t.Errorf("told at %.3f s: tone heard %v, %d onsets of words behind it", e.At.Seconds(), tone, words)
		}
	}
}

// The readings of a session tell how its bath drifts, as a trial does: a bath that cools
// from 24 towards 18 C with a time constant of ten minutes, read once a second.
func TestDriftOfASession(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	file := filepath.Join(t.TempDir(), "temp1_input")
	began := time.Time{}
	write := func() {
		warm := 18 + 6*math.Exp(-time.Since(began).Seconds()/600)
		if err := os.WriteFile(file, fmt.Appendln(nil, int(math.Round(1000*warm))), 0o600); err != nil {
			t.Error(err)
		}
	}
	s := runVirtually(t, func(io.Writer) {
		began = time.Now()
		for time.Since(began) < 26*time.Minute { // nearly to its end
			write()
			time.Sleep(500 * time.Millisecond)
		}
	}, "run", "tern-hangers", "--plain", "--json", "--sound", "off", "--thermometer", file)
	if s.status != app.ExitOK {
		t.Fatalf("status %d: %s", s.status, &s.err)
	}
	fit := runVirtually(t, nil, "fit", "bath", only(t).ID, "--json")
	var d struct {
		Settle float64 `json:"settles_at_c"`
		Tau    float64 `json:"time_constant_s"`
	}
	if err := json.Unmarshal(fit.out.Bytes(), &d); err != nil {
		t.Fatalf("%v: %s%s", err, &fit.out, &fit.err)
	}
	if math.Abs(d.Settle-18) > 0.1 || math.Abs(d.Tau-600) > 15 {
		t.Errorf("settles at %v C with %v s; expected 18 and 600", d.Settle, d.Tau)
	}
}

// A thermometer in the room says nothing of the developer.
func TestThermometerInTheRoomMovesNothing(t *testing.T) {
	hometest.New(t)
	file := filepath.Join(t.TempDir(), "room")
	if err := os.WriteFile(file, []byte("27.5\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s := runVirtually(t, nil, "run", "tern-hangers", "--plain", "--json", "--sound", "off", "--thermometer", file, "--sensor-in", "room")
	for _, e := range eventsOf(t, s.out.Bytes()) {
		if e.Kind == sequence.ReadingTaken {
			t.Fatal("a reading of the room was taken for the developer's")
		}
		if e.Kind == sequence.StepEnded && e.Step == "develop" && e.At != 10*time.Minute {
			t.Errorf("developing ended at %v; expected 10m", e.At)
		}
	}
}

// In a jacket it reads the water around the developer: with the offset that is stated
// it tells of the developer, without one it is refused.
func TestThermometerInTheJacket(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	file := filepath.Join(t.TempDir(), "jacket")
	if err := os.WriteFile(file, []byte("19250\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	run := []string{"run", "tern-hangers", "--plain", "--json", "--sound", "off", "--thermometer", file}
	s := runVirtually(t, nil, append(run, "--sensor-in", "jacket", "--jacket-offset", "0.75")...)
	readings := 0
	for _, e := range eventsOf(t, s.out.Bytes()) {
		if e.Kind == sequence.ReadingTaken {
			if readings++; *e.Temperature != 20 {
				t.Fatalf("%v C; 19.25 in the jacket and 0.75 are 20", *e.Temperature)
			}
		}
	}
	if readings == 0 {
		t.Error("nothing was read")
	}
	for _, wrong := range [][]string{{"--sensor-in", "jacket"}, {"--jacket-offset", "1"},
		{"--sensor-in", "jacket", "--jacket-offset", "warm"}, {"--sensor-in", "jacket", "--jacket-offset", "11"}} {
		if s := runVirtually(t, nil, append(run, wrong...)...); s.status != app.ExitUsage {
			t.Errorf("%v: status %d; expected %d", wrong, s.status, app.ExitUsage)
		}
	}
}

func TestThermometerThatHangsNowhere(t *testing.T) {
	hometest.New(t)
	if s := runVirtually(t, nil, "run", "tern-hangers", "--plain", "--thermometer", "x", "--sensor-in", "fridge"); s.status != app.ExitUsage {
		t.Errorf("status %d; expected %d", s.status, app.ExitUsage)
	}
}
