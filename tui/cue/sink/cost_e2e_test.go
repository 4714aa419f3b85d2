//go:build unix

package sink_test

// What sound costs a processor: WETSIDE_E2E=1. WETSIDE_FULL=1 takes a minute for it.

import (
	"os"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink"
	"example.org/wetside/tui/cue/sink/studio"
)

// used is the processor's time that this process has taken.
func used() time.Duration {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// Ear, sink and a schedule twice a second, with a cue every five seconds. No other
// test runs beside this one; but other packages' tests do, and then all that wakes up
// often costs more.
func TestSoundAloneTakesLittleOfAProcessor(t *testing.T) {
	s := studio.PulseAudio(t).Start()
	length, most := 10*time.Second, 1.0 // per cent of a core
	if os.Getenv("WETSIDE_FULL") == "1" {
		length, most = time.Minute, 0.4
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
		plan = append(plan, sequence.Cue{At: at, Kind: sequence.CueTurn, Step: "fix"})
	}
	before := used()
	engine(ear, c, plan, length)
	took := used() - before
	share := 100 * took.Seconds() / length.Seconds()
	t.Logf("%v of processor in %v: %.2f %% of a core", took, length, share)
	if begun, _, _ := ear.Counts(); begun != len(plan) {
		t.Errorf("%d cues begun, want %d", begun, len(plan))
	}
	if share > most {
		t.Errorf("%.2f %% of a core, want at most %v", share, most)
	}
}
