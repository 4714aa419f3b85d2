//go:build linux

package sink_test

// What sound costs a processor: WETSIDE_E2E=1. WETSIDE_FULL=1 takes a minute for it.

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
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

// waited is how often a thread of this process has waited and gone on, but for the one on
// which Go's runtime watches the others: it is the second.
func waited() (n int) {
	tasks, _ := filepath.Glob("/proc/self/task/*")
	slices.SortFunc(tasks, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
	for i, task := range tasks {
		status, _ := os.ReadFile(filepath.Join(task, "status"))
		_, rest, _ := strings.Cut(string(status), "\nvoluntary_ctxt_switches:")
		var of int
		if fmt.Sscan(rest, &of); i != 1 {
			n += of
		}
	}
	return n
}

// Ear, sink and a schedule twice a second, with a cue every five seconds, on the one
// processor that a session has. What it costs to wake up is the machine's affair, and how
// often is ours: that is bounded everywhere, and the time that it takes in the full run,
// which wants the machine for itself.
func TestSoundAloneTakesLittleOfAProcessor(t *testing.T) {
	s := pulsetest.PulseAudio(t).Start()
	const often = 18.0 // wake-ups a second; 6 to 7 are usual, and 22 without seconds of silence in hand
	length := 10 * time.Second
	full := os.Getenv("WETSIDE_FULL") == "1"
	if full {
		length = time.Minute
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1)) // as a session does: thrift.go in cmd/wetside
	defer debug.SetGCPercent(debug.SetGCPercent(400))
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
	before, wakes := used(), waited()
	engine(ear, c, plan, length)
	took, woken := used()-before, float64(waited()-wakes)/length.Seconds()
	share := 100 * took.Seconds() / length.Seconds()
	t.Logf("%v of processor in %v: %.2f %% of a core; %.1f wake-ups a second", took, length, share, woken)
	if begun, _, _ := ear.Counts(); begun != len(plan) {
		t.Errorf("%d cues begun, want %d", begun, len(plan))
	}
	if woken > often {
		t.Errorf("%.1f wake-ups a second, want at most %v", woken, often)
	}
	if full && share > 0.4 {
		t.Errorf("%.2f %% of a core, want at most 0.4", share)
	}
}
