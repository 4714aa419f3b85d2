//go:build linux

package sink_test

// What sound costs a processor: WETSIDE_E2E=1. WETSIDE_FULL=1, which wants the machine for
// itself, takes a minute for it and holds the figure to its aim.

import (
	"os"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink"
	"example.org/wetside/tui/cue/sink/pulsetest"
)

// used is the processor's time that this process has taken.
func used() time.Duration {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// Ear, sink and a schedule twice a second, with a cue every five seconds.
func TestSoundAloneTakesLittleOfAProcessor(t *testing.T) {
	s := pulsetest.PulseAudio(t).Start()
	length := 10 * time.Second
	full := os.Getenv("WETSIDE_FULL") == "1"
	if full {
		length = time.Minute
	}
	c := clock.New(clock.System(), 0, 1)
	ear := cue.NewEar(c)
	out, err := sink.OpenPulse(ear, s.Getenv)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	var plan []sequence.Cue
	for at := 2 * time.Second; at < length; at += 5 * time.Second {
		plan = append(plan, sequence.Cue{At: at, Kind: sequence.CueShuffle, Step: "fix"})
	}
	before := used()
	engine(ear, c, plan, length)
	share := 100 * (used() - before).Seconds() / length.Seconds()
	t.Logf("%.2f %% of a core over %v", share, length)
	if begun, _, _ := ear.Counts(); begun != len(plan) {
		t.Errorf("%d cues begun, want %d", begun, len(plan))
	}
	if full && share > 1 {
		t.Errorf("%.2f %% of a core, want at most 1", share)
	}
}
