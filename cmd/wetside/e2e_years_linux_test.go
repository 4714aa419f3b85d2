package main

// Years of sessions: how long the list, a search and the screens take, and how much
// memory, with the program as it is built and two thousand journals.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const (
	manySessions = 2000
	mostMemory   = 100 << 10 // KiB
)

// years is a laptop on which one session was rehearsed, and its journal linked under so
// many names.
func years(t *testing.T) machine {
	t.Helper()
	l := newLaptop(t, "5m", "3m", "2m")
	if out, err := l.command(nil, "run", "tern-hangers", "--plain", "--rehearse", "10000", "--sound", "off", "--voice", "off").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	folder := l.path("xdg_state_home/wetside/sessions")
	found, err := filepath.Glob(filepath.Join(folder, "*.jsonl"))
	if err != nil || len(found) != 1 {
		t.Fatalf("%q, %v; expected one journal", found, err)
	}
	for n := 1; n < manySessions; n++ {
		day := time.Date(2018, 1, 1, 19, 0, 0, 0, time.UTC).AddDate(0, 0, n)
		if err := os.Link(found[0], filepath.Join(folder, day.Format("2006-01-02T1504")+"-tern-125.jsonl")); err != nil {
			t.Fatal(err)
		}
	}
	return l
}

func TestYearsOfSessions(t *testing.T) {
	if ownProcess(t) {
		return
	}
	requireTool(t, "ps")
	requireTool(t, "time", "true")
	l := years(t)
	rebuilt, memory := l.timed("notebook")
	t.Logf("rebuilding the index: %v, %d KiB", rebuilt, memory)
	for _, args := range [][]string{{"notebook"}, {"notebook", "--film", "tern", "--bath", "developer", "--text", "hangers", "--since", "2020-01-01"}} {
		best := time.Hour
		for range 10 {
			took, peak := l.timed(args...)
			best, memory = min(best, took), max(memory, peak)
		}
		t.Logf("%q: %v at best of ten, %d KiB", args, best, memory)
	}
	if memory > mostMemory {
		t.Errorf("%d KiB; expected %d at most", memory, mostMemory)
	}
	l.screensOfYears()
}

// timed is how long a command takes in a process of its own, and its most memory in KiB.
// time(1) starts it: the kernel counts the memory of whoever starts a process as its own,
// and these tests have much.
func (l machine) timed(args ...string) (time.Duration, int64) {
	l.t.Helper()
	file := filepath.Join(l.t.TempDir(), "memory")
	cmd := l.command([]string{"time", "-f", "%M", "-o", file}, args...)
	began := time.Now()
	out, err := cmd.CombinedOutput()
	took := time.Since(began)
	if err != nil {
		l.t.Fatalf("%v: %v: %s", args, err, out)
	}
	text, _ := os.ReadFile(file)
	var peak int64
	if _, err := fmt.Sscan(string(text), &peak); err != nil {
		l.t.Fatalf("time wrote %q: %v", text, err)
	}
	return took, peak
}

// screensOfYears opens the screens and the notebook on them: neither may read all
// journals.
func (l machine) screensOfYears() {
	l.t.Helper()
	cmd := l.command(nil)
	cmd.Env = append(cmd.Env, "TERM=xterm-256color")
	began := time.Now()
	s := startAt(l.t, 80, 24, modernTerminal, cmd)
	s.seen("the list", showing("N notebook"))
	l.t.Logf("first frame: %v", time.Since(began))
	began = time.Now()
	s.types("N")
	s.seen("the notebook", showing(fmt.Sprint(manySessions, " rehearsals hidden")))
	s.types("r")
	s.seen("all sessions", showing(fmt.Sprint(manySessions, " sessions")))
	l.t.Logf("list on the screens: %v", time.Since(began))
	out, err := exec.Command("ps", "-o", "pid=", "-s", fmt.Sprint(cmd.Process.Pid)).Output()
	if err != nil {
		l.t.Fatal(err)
	}
	for _, pid := range strings.Fields(string(out)) {
		status, _ := os.ReadFile("/proc/" + pid + "/status")
		_, rest, _ := strings.Cut(string(status), "VmHWM:")
		var peak int
		fmt.Sscan(rest, &peak)
		l.t.Logf("most memory of process %s: %d KiB", pid, peak)
		if peak > mostMemory {
			l.t.Errorf("%d KiB; expected %d at most", peak, mostMemory)
		}
	}
}
