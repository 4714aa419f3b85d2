package main

// What a quiet dark step costs: how often the screens' process wakes up, which a busy
// machine does not change, and how much of a core it takes, which it does.
// WETSIDE_E2E=1; WETSIDE_FULL=1 takes a minute for it.

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
)

// toll is what a process has taken since it began.
type toll struct {
	wakes    int           // how often one of its threads waited and went on
	watchman int           // the same of the thread on which Go's runtime watches the others
	cores    time.Duration // of all processors
}

// tollOf reads what the kernel has counted for a process. The watchman is the second
// thread of every Go program; it naps while others are up, and naps the more the longer
// a busy machine keeps these waiting.
func tollOf(t *testing.T, pid int) (u toll) {
	t.Helper()
	tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*", pid))
	slices.SortFunc(tasks, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
	for i, task := range tasks {
		status, err := os.ReadFile(filepath.Join(task, "status"))
		if err != nil {
			continue // the thread has just ended
		}
		_, rest, _ := strings.Cut(string(status), "\nvoluntary_ctxt_switches:")
		var n int
		fmt.Sscan(rest, &n)
		if i == 1 {
			u.watchman = n
		} else {
			u.wakes += n
		}
		stat, _ := os.ReadFile(filepath.Join(task, "schedstat"))
		var ran time.Duration
		fmt.Sscan(string(stat), &ran)
		u.cores += ran
	}
	if u.wakes == 0 {
		t.Fatalf("process %d has no threads that waited", pid)
	}
	return u
}

// Two baths at rest in the dark, with sound and a voice; the server is the test's own.
func TestAQuietDarkStepHardlyWakes(t *testing.T) {
	server := soundServer(t)
	b := blindSession(t, server)
	b.rest(1)
	b.begins()
	b.rest(4)                             // the lead, the first dip and its word
	length, most := 10*time.Second, 100.0 // a server that stalls is asked more often
	if full {
		length, most = time.Minute, 30 // 7 are usual; 51 to 57 without seconds of silence in hand and on two processors
	}
	pid := b.screensOf()
	if got, _ := os.ReadFile(fmt.Sprintf("/proc/%d/timerslack_ns", pid)); strings.TrimSpace(string(got)) != fmt.Sprint(int64(supervisor.TimerSlack)) {
		t.Errorf("timers of the screens have a slack of %q ns, want %v", got, supervisor.TimerSlack)
	}
	before, since := tollOf(t, pid), time.Now()
	time.Sleep(length)
	after, took := tollOf(t, pid), time.Since(since).Seconds()
	wakes := float64(after.wakes-before.wakes) / took
	t.Logf("%.1f wake-ups a second of threads, and %.1f naps of Go's watchman; %.2f %% of a core", wakes,
		float64(after.watchman-before.watchman)/took, 100*(after.cores-before.cores).Seconds()/took)
	if wakes > most {
		t.Errorf("%.1f wake-ups a second, want at most %v", wakes, most)
	}
	b.holds()
}
