package main

// What a quiet dark step costs a battery: WETSIDE_E2E=1. WETSIDE_FULL=1, which wants the
// machine for itself, takes a minute for it and holds the figure to its aim.

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// processorTime is what all threads of a process have used of all processors
// (schedstat, proc(5)).
func processorTime(t *testing.T, pid int) (total time.Duration) {
	t.Helper()
	files, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
	for _, file := range files {
		stat, _ := os.ReadFile(file) // empty where the thread has just ended
		var ran time.Duration
		fmt.Sscan(string(stat), &ran)
		total += ran
	}
	if total == 0 {
		t.Fatalf("process %d has used no processor", pid)
	}
	return total
}

// Two baths at rest in the dark, with sound and a voice; the server is the test's own.
func TestAQuietDarkStepCostsLittle(t *testing.T) {
	server := soundServer(t)
	b := blindSession(t, server)
	b.rest(1)
	b.begins()
	b.rest(4) // the countdown, the first sheet in and its word
	length := 10 * time.Second
	if full {
		length = time.Minute
	}
	pid := b.screensOf()
	before, since := processorTime(t, pid), time.Now()
	time.Sleep(length)
	share := 100 * (processorTime(t, pid) - before).Seconds() / time.Since(since).Seconds()
	t.Logf("%.2f %% of a core", share)
	if aim := 1.5; full && share > aim {
		t.Errorf("%.2f %% of a core, want at most %v", share, aim)
	}
	b.holds()
}
