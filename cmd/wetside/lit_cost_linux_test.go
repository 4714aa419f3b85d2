package main

// What the screens cost with light on them: memory on the recipes and in a session, and the
// processor's time while a session runs: WETSIDE_E2E=1. WETSIDE_FULL=1, which wants the machine for
// itself, takes a minute for it and holds the figures to their aims.

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
)

// resident is how much memory a process has in use, in MB (VmRSS, proc_pid_status(5)).
func resident(t *testing.T, pid int) float64 {
	t.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(status), "VmRSS:")
	var kib float64
	if _, err := fmt.Sscan(rest, &kib); err != nil {
		t.Fatal(err)
	}
	return kib / 1000
}

// On the recipes, and in a session of real speed with every part of the screen in use.
func TestWhatTheLitScreensCost(t *testing.T) {
	if !e2e {
		t.Skip("WETSIDE_E2E=1")
	}
	server := soundServer(t)
	length := 10 * time.Second
	if full {
		length = time.Minute
	}
	list := wetsideAt(t, modernTerminal)
	list.resize(200, 60)
	list.seen("the recipes", showing("N notebook"))
	time.Sleep(time.Second)
	t.Logf("recipes: %.1f MB", resident(t, list.screensOf()))
	list.types("q")
	<-list.ended

	s := wetsideWith(t, modernTerminal, []string{"PULSE_SERVER=" + server.Getenv("PULSE_SERVER")},
		"run", "plover-tray", "--rehearse", "1", "--sound", "pulse")
	s.resize(200, 60)
	s.seen("the session", showing("stack, from the bottom"))
	pid := s.screensOf()
	before, since := processorTime(t, pid), time.Now()
	time.Sleep(length)
	share := 100 * (processorTime(t, pid) - before).Seconds() / time.Since(since).Seconds()
	memory := resident(t, pid)
	t.Logf("a session: %.2f %% of a core, %.1f MB", share, memory)
	if full && (share > 1 || memory > 40) {
		t.Errorf("want at most 1 %% and 40 MB")
	}
}
