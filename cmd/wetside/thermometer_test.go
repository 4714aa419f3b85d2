package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// A bath that warms from 20 to 25 C, seen by a sensor as the kernel writes it,
// ends its developing step when scipy says so (the output of testdata/ramp.py; the
// file is up to half a second old when it is read), and what that changes is heard.
func TestSensorThatWarmsEndsTheStepWhenScipySays(t *testing.T) {
	const scipy = 506.669
	home(t)
	file := filepath.Join(t.TempDir(), "temp1_input")
	write := func(milli int) {
		if err := os.WriteFile(file, fmt.Appendln(nil, milli), 0o600); err != nil {
			t.Error(err)
		}
	}
	write(20000)
	s := virtually(t, func(io.Writer) {
		began := time.Now()
		for time.Since(began) < 10*time.Minute {
			time.Sleep(500 * time.Millisecond)
			write(20000 + int(math.Round(5000*time.Since(began).Seconds()/600)))
		}
	}, "run", "tern-hangers", "--plain", "--json", "--sound", "off", "--thermometer", file)
	if s.status != fine {
		t.Fatalf("status %d: %s", s.status, &s.err)
	}
	var ended float64
	readings, heard := 0, 0
	for _, e := range eventsOf(t, s.out.Bytes()) {
		switch {
		case e.Kind == sequence.StepEnded && e.Step == "develop":
			ended = e.At.Seconds()
		case e.Kind == sequence.ReadingTaken && e.Source == sequence.BySensor:
			readings++
		case e.Kind == sequence.CueGiven && e.Cue == sequence.CueReading:
			heard++
		}
	}
	if math.Abs(ended-scipy) > 0.2 {
		t.Errorf("developing ended at %.3f s; scipy says %.3f", ended, scipy)
	}
	// 600 s planned, 507 s in the end: a change of ten seconds each time is told
	// about nine times.
	if heard < 5 || heard > 12 {
		t.Errorf("the change was told %d times", heard)
	}
	if readings < 480 {
		t.Errorf("%d readings kept; one a second was expected", readings)
	}
}

// A thermometer in the room says nothing of the developer.
func TestThermometerInTheRoomMovesNothing(t *testing.T) {
	home(t)
	file := filepath.Join(t.TempDir(), "room")
	if err := os.WriteFile(file, []byte("27.5\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s := virtually(t, nil, "run", "tern-hangers", "--plain", "--json", "--sound", "off", "--thermometer", file, "--hangs-in", "room")
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
	home(t)
	file := filepath.Join(t.TempDir(), "jacket")
	if err := os.WriteFile(file, []byte("19250\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	run := []string{"run", "tern-hangers", "--plain", "--json", "--sound", "off", "--thermometer", file}
	s := virtually(t, nil, append(run, "--hangs-in", "jacket", "--jacket-offset", "0.75")...)
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
	for _, wrong := range [][]string{{"--hangs-in", "jacket"}, {"--jacket-offset", "1"},
		{"--hangs-in", "jacket", "--jacket-offset", "warm"}, {"--hangs-in", "jacket", "--jacket-offset", "11"}} {
		if s := virtually(t, nil, append(run, wrong...)...); s.status != misuse {
			t.Errorf("%v: status %d; expected %d", wrong, s.status, misuse)
		}
	}
}

func TestThermometerThatHangsNowhere(t *testing.T) {
	home(t)
	if s := virtually(t, nil, "run", "tern-hangers", "--plain", "--thermometer", "x", "--hangs-in", "fridge"); s.status != misuse {
		t.Errorf("status %d; expected %d", s.status, misuse)
	}
}
