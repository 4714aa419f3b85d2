package journal

// Whether a process is the one that wrote a record: its start against the clock of the kernel
// before and after it (proc(5): in ticks since boot, in the boottime clock), its name against comm.

import (
	"bufio"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence/clock"
)

func TestProcess(t *testing.T) {
	name, state, _, ok := process(os.Getpid())
	comm, err := os.ReadFile("/proc/self/comm")
	if err != nil {
		t.Fatal(err)
	}
	if !ok || name != strings.TrimSuffix(string(comm), "\n") || state != "R" && state != "S" {
		t.Errorf("we are %q in state %s, %v; expected %q", name, state, ok, comm)
	}
	if _, _, _, ok := process(1 << 30); ok { // past the kernel's largest number, 2^22
		t.Error("nobody is there, and is read")
	}
}

func TestStillRuns(t *testing.T) {
	s := newStore(t, 1)
	before := clock.System().Read()
	cmd := second(t, "hold", nil, s.Folders...)
	in, _ := cmd.StdinPipe()
	out, _ := cmd.StdoutPipe()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil || line != "ack 0\n" {
		t.Fatalf("second process said %q: %v", line, err)
	}
	now := clock.System().Read()
	pid := cmd.Process.Pid
	_, _, started, ok := process(pid)
	if !ok || started < before.Boottime-clockTick || started > now.Boottime {
		t.Errorf("it began at %v since boot; expected %v to %v", started, before.Boottime, now.Boottime)
	}
	otherBoot, earlier := now, before
	otherBoot.Boot, earlier.Boottime = "another", before.Boottime-time.Second
	for name, c := range map[string]struct {
		pid   int
		wrote clock.Mark
		want  bool
	}{
		"it wrote this now":       {pid, now, true},
		"before it was there":     {pid, earlier, false},
		"before the last boot":    {pid, otherBoot, false},
		"this process":            {os.Getpid(), now, false},
		"nobody has the number":   {1 << 30, now, false},
		"another program has it":  {sleeper(t), clock.System().Read(), false},
		"another program, of old": {1, now, false},
		"in the tick it began in": {pid, sinceBoot(now, started), true},
		"a moment before that":    {pid, sinceBoot(now, started-1), false},
	} {
		if got := stillRuns(c.pid, c.wrote); got != c.want {
			t.Errorf("%s: still runs is %v", name, got)
		}
	}
	in.Close() // it ends, and nobody has asked for its status
	for until := time.Now().Add(time.Minute); stillRuns(pid, now); time.Sleep(time.Millisecond) {
		if time.Now().After(until) {
			t.Fatal("it has ended, and is said to run")
		}
	}
	cmd.Wait()
}

// sinceBoot is a mark at another time since the same boot.
func sinceBoot(m clock.Mark, at time.Duration) clock.Mark {
	m.Boottime = at
	return m
}

// The fields by their numbers in proc(5): the second is the name, the third the state, the 22nd
// the start in hundredths of a second.
func TestProcessIn(t *testing.T) {
	const from4to21 = " 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18"
	for stat, want := range map[string]struct {
		name, state string
		started     time.Duration
		ok          bool
	}{
		"7 (tern) S" + from4to21 + " 150":       {"tern", "S", 1500 * time.Millisecond, true},
		"7 (tern) S" + from4to21 + " 150 9 9\n": {"tern", "S", 1500 * time.Millisecond, true},
		"7 (a) R (b) Z" + from4to21 + " 1":      {"a) R (b", "Z", 10 * time.Millisecond, true},
		"7 () S" + from4to21 + " 0":             {"", "S", 0, true},
		"7 (tern) S" + from4to21:                {},
		"7 (tern) S":                            {},
		"7 (tern S" + from4to21 + " 150":        {},
		"7 tern) S" + from4to21 + " 150":        {},
		"7 tern S" + from4to21 + " 150 1 2 3 4": {},
		"":                                      {},
	} {
		if name, state, started, ok := processIn(stat); name != want.name || state != want.state || started != want.started || ok != want.ok {
			t.Errorf("%q: %q %q %v %v; expected %+v", stat, name, state, started, ok, want)
		}
	}
	if _, _, _, ok := processIn("7 (tern) S" + from4to21 + " soon"); ok {
		t.Error("a start that is no number")
	}
}

// sleeper is the number of a process of another program, until the test ends.
func sleeper(t *testing.T) int {
	cmd := exec.Command("sleep", "60")
	if err := cmd.Start(); err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	return cmd.Process.Pid
}
