package main

// End to end, with the program as it is built: killed, left asleep, out of disk,
// its input closed, its reader gone. Tests that need a tool skip where it does
// not work; WETSIDE_E2E=1 makes that a failure.

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
)

// builtProgram is the program, built once.
var builtProgram = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "wetside-built-")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "wetside")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

// requireTool skips a test, or fails it in an end-to-end run, where a command that
// only tries the tool does not work.
func requireTool(t *testing.T, try ...string) {
	t.Helper()
	out, err := exec.Command(try[0], try[1:]...).CombinedOutput()
	switch {
	case err == nil:
	case os.Getenv("WETSIDE_E2E") != "":
		t.Fatalf("%v: %v: %s", try, err, out)
	default:
		t.Skipf("%v does not work here: %v", try, err)
	}
}

// machine is a home with a recipe in it, in which the program is run.
type machine struct {
	t   *testing.T
	dir string
	env []string
}

// newLaptop makes one. The recipe develops, fixes and washes for these times.
func newLaptop(t *testing.T, develop, fix, wash string) machine {
	t.Helper()
	l := machine{t: t, dir: t.TempDir()}
	recipe := fmt.Sprintf("title = \"Tern 125\"\nfilm.name = \"Tern 125\"\n"+
		"load = { vessel = \"hangers\", sheets = 2, size = \"4x5in\" }\n"+
		"[[step]]\nkind = \"develop\"\ntime = %q\nagitate = { initial = \"1s\", for = \"1s\", at = [\"2/3\"] }\n"+
		"[[step]]\nkind = \"fix\"\ntime = %q\n[[step]]\nkind = \"wash\"\ntime = %q\n", develop, fix, wash)
	if err := os.WriteFile(l.path("tern.toml"), []byte(recipe), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR", "TMPDIR"} {
		dir := l.path(strings.ToLower(name))
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		l.env = append(l.env, name+"="+dir)
	}
	l.env = append(l.env, "HOME="+l.dir, "PATH="+os.Getenv("PATH"))
	return l
}

func (l machine) path(name string) string { return filepath.Join(l.dir, name) }

// command is the program with these arguments, under a wrapping command or none.
func (l machine) command(wrap []string, args ...string) *exec.Cmd {
	l.t.Helper()
	program, err := builtProgram()
	if err != nil {
		l.t.Fatal(err)
	}
	line := append(append(slices.Clone(wrap), program), args...)
	cmd := exec.Command(line[0], line[1:]...)
	cmd.Dir, cmd.Env = l.dir, l.env
	return cmd
}

// planned is a recipe's plan on this machine, as a script reads it.
func (l machine) planned(recipe string) (p planning.Summary) {
	l.t.Helper()
	out, err := l.command(nil, "plan", recipe, "--json").Output()
	if err == nil {
		err = sequence.Unmarshal(out, &p)
	}
	if err != nil {
		l.t.Fatalf("plan %s: %v: %s", recipe, err, out)
	}
	return p
}

// process is the program at work.
type process struct {
	t      *testing.T
	cmd    *exec.Cmd
	in     io.WriteCloser
	out    *bufio.Reader
	stderr bytes.Buffer
	events []sequence.Event
	lines  [][]byte         // as they were written
	first  [2]time.Duration // the first line came between these, on the boot clock
}

// start runs it and waits for its first line.
func (l machine) start(wrap []string, args ...string) *process {
	l.t.Helper()
	r := &process{t: l.t, cmd: l.command(wrap, args...)}
	r.in, _ = r.cmd.StdinPipe()
	out, _ := r.cmd.StdoutPipe()
	r.cmd.Stderr, r.out = &r.stderr, bufio.NewReader(out)
	r.first[0] = boottime()
	if err := r.cmd.Start(); err != nil {
		l.t.Fatal(err)
	}
	l.t.Cleanup(func() { r.cmd.Process.Kill() })
	if !r.next() {
		r.cmd.Wait()
		l.t.Fatalf("%v: %v said nothing; stderr %q", args, r.cmd.ProcessState, &r.stderr)
	}
	r.first[1] = boottime()
	return r
}

// next reads one event; false at the end.
func (r *process) next() bool {
	r.t.Helper()
	line, err := r.out.ReadBytes('\n')
	if err != nil {
		return false
	}
	var e sequence.Event
	if err := sequence.Unmarshal(line, &e); err != nil {
		r.t.Fatalf("%s: %v", line, err)
	}
	r.events, r.lines = append(r.events, e), append(r.lines, line)
	return true
}

// until reads events up to one that is wanted.
func (r *process) until(wanted func(sequence.Event) bool) sequence.Event {
	r.t.Helper()
	for r.next() {
		if e := r.events[len(r.events)-1]; wanted(e) {
			return e
		}
	}
	r.t.Fatalf("it never came; the last of %d events is %+v; stderr %q", len(r.events), r.events[len(r.events)-1], &r.stderr)
	panic("unreachable")
}

func kind(k sequence.EventKind) func(sequence.Event) bool {
	return func(e sequence.Event) bool { return e.Kind == k }
}

// kill is kill -9; what it had written counts.
func (r *process) kill() {
	r.cmd.Process.Kill()
	for r.next() {
	}
	r.cmd.Wait()
}

// finish reads to the end and wants that exit status.
func (r *process) finish(status int) {
	r.t.Helper()
	for r.next() {
	}
	r.cmd.Wait()
	if got := r.cmd.ProcessState.ExitCode(); got != status {
		r.t.Errorf("exit status %d; want %d; stderr %q", got, status, &r.stderr)
	}
}

// onDisk waits until the journal holds an event: what is written to stdout does
// not wait for a disk that is slow.
func (l machine) onDisk(e sequence.Event) {
	l.t.Helper()
	store := l.store()
	for try := time.Now(); time.Since(try) < testLimit; time.Sleep(5 * time.Millisecond) {
		for _, entry := range store.List() {
			kept, err := store.Read(entry.ID)
			if err == nil && slices.ContainsFunc(kept.Records, func(r journal.Record) bool { return r.Event == e }) {
				return
			}
		}
	}
	l.t.Fatalf("%+v never reached the journal", e)
}

// store is where the laptop's journals lie.
func (l machine) store() journal.Store {
	return journal.Store{Folders: []string{l.path("xdg_state_home/wetside/sessions")}}
}

// boottime is the clock that counts sleep, read here and nowhere else.
func boottime() time.Duration {
	var ts unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_BOOTTIME, &ts); err != nil {
		panic(err)
	}
	return time.Duration(ts.Nano())
}

// agrees wants an elapsed time that agrees with our own measurement: n times
// the time from the first line of one run to that of the next, and asleep.
func agrees(t *testing.T, at sequence.Elapsed, n float64, from, to [2]time.Duration, asleep time.Duration) {
	t.Helper()
	least, most := time.Duration(n*float64(to[0]-from[1]+asleep)), time.Duration(n*float64(to[1]-from[0]+asleep))
	if at < least || at > most {
		t.Errorf("resumed at %v; by our own clock it is between %v and %v", at, least, most)
	}
	if width := most - least; width > time.Duration(n*float64(400*time.Millisecond)) {
		t.Logf("the machine is slow: the measurement is %v wide", width)
	}
}

// Killed in the middle of a step and taken up: exact, by itself, to the end, and
// no cue twice.
func TestKilledAndTakenUp(t *testing.T) {
	for _, c := range []struct {
		name        string
		factor      float64
		args        []string
		minutesText string
	}{
		{"in real time", 1, nil, "3s"},
		{"rehearsing", 20, []string{"--rehearse", "20"}, "60s"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			l := newLaptop(t, c.minutesText, c.minutesText, c.minutesText)
			r := l.start(nil, append([]string{"run", "tern.toml", "--plain", "--json", "--sound", "off"}, c.args...)...)
			if r.events[0].Kind != sequence.SessionBegan || r.events[0].At != 0 {
				t.Fatalf("first %+v", r.events[0])
			}
			r.until(func(e sequence.Event) bool { return e.Kind == sequence.StepBegan && e.Step == "fix" })
			time.Sleep(700 * time.Millisecond) // into the fixer
			r.kill()
			again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
			if e := again.events[0]; e.Kind != sequence.Resumed {
				t.Fatalf("first %+v; want resumed", e)
			}
			agrees(t, again.events[0].At, c.factor, r.first, again.first, 0)
			again.finish(0)
			all := append(slices.Clone(r.events), again.events...)
			if last := all[len(all)-1]; last.Kind != sequence.SessionDone {
				t.Errorf("last %+v", last)
			}
			if slices.ContainsFunc(all, kind(sequence.Held)) || slices.ContainsFunc(all, kind(sequence.GapFound)) {
				t.Error("held, or a gap, though it was away for less than ten seconds")
			}
			onceEach(t, all)
			edges(t, all, time.Duration(c.factor*3)*time.Second)
		})
	}
}

// onceEach wants each cue, and each beginning and end of a step, at most once.
func onceEach(t *testing.T, events []sequence.Event) {
	t.Helper()
	seen := map[string]int{}
	cues := 0
	for _, e := range events {
		switch e.Kind {
		case sequence.CueGiven:
			cues++
			seen[fmt.Sprint(e.Cue, e.Step, e.Sheet, e.At.Round(time.Millisecond))]++
		case sequence.StepBegan, sequence.StepEnded:
			seen[fmt.Sprint(e.Kind, e.Step)]++
		}
	}
	for what, n := range seen {
		if n > 1 {
			t.Errorf("%s: %d times", what, n)
		}
	}
	if cues < 5 {
		t.Errorf("%d cues only", cues)
	}
}

// edges wants the steps to follow one another after so long each, killed or not.
func edges(t *testing.T, events []sequence.Event, each time.Duration) {
	t.Helper()
	for i, step := range []string{"develop", "fix", "wash"} {
		at := slices.IndexFunc(events, func(e sequence.Event) bool { return e.Kind == sequence.StepEnded && e.Step == step })
		if want := time.Duration(i+1) * each; at < 0 || events[at].At != want {
			t.Errorf("%s did not end at %v: %+v", step, want, events)
		}
	}
}

// Asleep between two runs for half an hour: elapsed time counts it. Where the
// end of a step was missed it holds and says for how long; where none was it
// goes on by itself.
func TestAsleepBetweenRuns(t *testing.T) {
	asleep := []string{"unshare", "-U", "-r", "-T", "--boottime", "1800"}
	requireTool(t, append(asleep, "true")...)
	for name, fix := range map[string]string{"an end was missed": "10m", "none was missed": "2h"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			l := newLaptop(t, "1s", fix, "1s")
			r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
			fixing := r.until(func(e sequence.Event) bool { return e.Kind == sequence.StepBegan && e.Step == "fix" })
			l.onDisk(fixing)
			r.kill()
			again := l.start(asleep, "resume", "--plain", "--json", "--sound", "off")
			resumed := again.events[0]
			if resumed.Kind != sequence.Resumed {
				t.Fatalf("first %+v", resumed)
			}
			agrees(t, resumed.At, 1, r.first, again.first, 30*time.Minute)
			again.until(kind(sequence.GapFound))
			if fix == "10m" {
				held := again.until(kind(sequence.Held))
				if held.At < resumed.At {
					t.Errorf("held at %v, before %v", held.At, resumed.At)
				}
				due := again.until(kind(sequence.Overran))
				if due.Since == nil || *due.Since != 601*time.Second {
					t.Errorf("overdue since %v; want 601 s", due.Since)
				}
			}
			fmt.Fprintln(again.in, "next")
			washed := again.until(func(e sequence.Event) bool { return e.Kind == sequence.StepBegan && e.Step == "wash" })
			again.finish(0)
			last := again.events[len(again.events)-1]
			if last.Kind != sequence.SessionDone || last.At != washed.At+time.Second {
				t.Errorf("last %+v; want session-done a second after %v", last, washed.At)
			}
			if held := slices.ContainsFunc(again.events, kind(sequence.Held)); held != (fix == "10m") {
				t.Errorf("held: %t", held)
			}
		})
	}
}

// A second instance is refused, and told who has the session, where the first
// does not answer; the first loses nothing by it.
func TestSecondInstance(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1h", "1s", "1s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	l.onDisk(r.until(kind(sequence.StepBegan)))
	r.cmd.Process.Signal(unix.SIGSTOP)
	second := l.command(nil, "resume", "--plain", "--sound", "off")
	out, err := second.CombinedOutput()
	if second.ProcessState.ExitCode() != 1 || !strings.Contains(string(out), fmt.Sprintf("process %d", r.cmd.Process.Pid)) {
		t.Errorf("%v: %s; want status 1 and process %d named", err, out, r.cmd.Process.Pid)
	}
	r.cmd.Process.Signal(unix.SIGCONT)
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
	if last := r.events[len(r.events)-1]; last.Kind != sequence.SessionStopped {
		t.Errorf("the first was disturbed: %+v", last)
	}
}

// A second instance is handed the session by a first that answers, without a
// cue lost or given twice.
func TestHandedOverBetweenProcesses(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "3s", "3s", "3s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	l.onDisk(r.until(kind(sequence.StepBegan)))
	again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
	if again.events[0].Kind != sequence.Resumed {
		t.Fatalf("first %+v; want resumed", again.events[0])
	}
	r.finish(0)
	if last := r.events[len(r.events)-1]; last.Kind != sequence.HandedOver {
		t.Errorf("the first ended with %+v; want handed-over", last)
	}
	agrees(t, again.events[0].At, 1, r.first, again.first, 0)
	again.finish(0)
	all := append(slices.Clone(r.events), again.events...)
	onceEach(t, all)
	edges(t, all, 3*time.Second)
}

// A polite signal ends the process, not the session.
func TestTerminated(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1h", "1s", "1s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	l.onDisk(r.until(kind(sequence.StepBegan)))
	r.cmd.Process.Signal(unix.SIGTERM)
	r.finish(1)
	if !strings.Contains(r.stderr.String(), "wetside resume") {
		t.Errorf("stderr %q", &r.stderr)
	}
	again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
	fmt.Fprintln(again.in, "stop")
	again.finish(0)
	if again.events[0].Kind != sequence.Resumed || again.events[len(again.events)-1].Kind != sequence.SessionStopped {
		t.Errorf("taken up: %+v", again.events)
	}
}

// The disk is full and nothing else can be written to: the session completes,
// and says so once.
func TestDiskFullUnderASession(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1s", "1s", "1s")
	state := l.path("xdg_state_home")
	wrap := []string{"unshare", "-U", "-r", "-m", "sh", "-c", `mount -t tmpfs -o size=40k,mode=0700 tmpfs "$0" && exec "$@"`, state}
	requireTool(t, append(slices.Clone(wrap), "true")...)
	l.env = append(l.env, "XDG_RUNTIME_DIR=/proc/nowhere", "TMPDIR=/proc/nowhere")
	r := l.start(wrap, "run", "plover-tray", "--plain", "--json", "--rehearse", "300", "--sound", "off") // 88 KB of record
	r.finish(0)
	if last := r.events[len(r.events)-1]; last.Kind != sequence.SessionDone {
		t.Errorf("last %+v", last)
	}
	var told []string
	for _, e := range r.events {
		if e.Kind == sequence.FollowerFailed {
			told = append(told, e.Text)
		}
	}
	if len(told) != 1 || !strings.Contains(told[0], "no space left") || !strings.Contains(told[0], "memory alone") {
		t.Errorf("told %q", told)
	}
}

// Nobody types and nobody reads: the session goes on to its end and is kept.
func TestNobodyThere(t *testing.T) {
	t.Parallel()
	gone, reader, err := os.Pipe() // its reading end is closed before the program starts
	if err != nil {
		t.Fatal(err)
	}
	gone.Close()
	defer reader.Close()
	for name, c := range map[string]struct {
		wrap []string
		out  *os.File
	}{
		"stdin closed":  {[]string{"sh", "-c", `exec "$@" <&-`, "sh"}, nil},
		"stdout closed": {[]string{"sh", "-c", `exec "$@" >&-`, "sh"}, nil},
		"reader gone":   {nil, reader},
	} {
		t.Run(name, func(t *testing.T) {
			l := newLaptop(t, "1m", "1m", "1m")
			cmd := l.command(c.wrap, "run", "tern.toml", "--plain", "--rehearse", "300", "--sound", "off")
			if c.out != nil {
				cmd.Stdout = c.out
			}
			if err := cmd.Run(); err != nil {
				t.Error(err)
			}
			list := l.store().List()
			if len(list) != 1 || list[0].Status != journal.Done {
				t.Fatalf("kept: %+v", list)
			}
			kept, err := l.store().Read(list[0].ID)
			if trouble := func(r journal.Record) bool { return r.Event.Kind == sequence.FollowerFailed }; err != nil || slices.ContainsFunc(kept.Records, trouble) {
				t.Errorf("trouble was told of, or %v", err)
			}
		})
	}
}

// Lines on a lit terminal beside open film are refused; in a rehearsal they may be.
func TestPlainOntoATerminal(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1m", "1m", "1m")
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{nil, 2, "would light this terminal"},
		{[]string{"--rehearse", "600"}, 0, "Done"},
	} {
		cmd := l.command(nil, append([]string{"run", "tern.toml", "--plain", "--sound", "off"}, c.args...)...)
		screen, err := pty.Start(cmd)
		if err != nil {
			skipOrFail(t, "no terminal: "+err.Error())
		}
		shown, _ := io.ReadAll(screen) // errs with EIO at the end
		cmd.Wait()
		if got := cmd.ProcessState.ExitCode(); got != c.status || !strings.Contains(string(shown), c.says) {
			t.Errorf("%v: status %d, want %d: %s", c.args, got, c.status, shown)
		}
	}
}

// A running session has no socket that waits for anybody, and none of a network.
func TestNoSocketListens(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1h", "1s", "1s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--rehearse", "1", "--sound", "auto")
	proc := fmt.Sprintf("/proc/%d/", r.cmd.Process.Pid)
	descriptors, err := os.ReadDir(proc + "fd")
	if err != nil || len(descriptors) < 3 {
		t.Fatalf("%d descriptors: %v", len(descriptors), err)
	}
	own := map[string]bool{} // inodes of sockets
	for _, d := range descriptors {
		if to, _ := os.Readlink(proc + "fd/" + d.Name()); strings.HasPrefix(to, "socket:[") {
			own[strings.Trim(to, "socket:[]")] = true
		}
	}
	const unixInode, inetInode, unixFlags, accepts = 6, 9, 3, "00010000" // columns of proc(5)
	for _, kind := range []string{"tcp", "tcp6", "udp", "udp6", "raw", "unix"} {
		text, err := os.ReadFile(proc + "net/" + kind)
		if err != nil && kind != "tcp6" && kind != "udp6" { // a kernel may be without these
			t.Fatal(err)
		}
		for line := range strings.Lines(string(text)) {
			f := strings.Fields(line)
			if kind == "unix" && len(f) > unixInode && own[f[unixInode]] && f[unixFlags] == accepts ||
				kind != "unix" && len(f) > inetInode && own[f[inetInode]] {
				t.Errorf("%s: %s", kind, line)
			}
		}
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
}

// Killed again and again at any moment, ten times and in full two hundred, and taken
// up each time: exact, nothing lost that was on the disk, no cue twice.
func TestKilledAtRandom(t *testing.T) {
	t.Parallel()
	const faster = 20.0
	kills := 10
	if full {
		kills = 200
	}
	l := newLaptop(t, "20m", "20m", "20m")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off", "--rehearse", fmt.Sprint(faster))
	l.onDisk(r.events[0])
	first, all, disk := r.first, []sequence.Event(nil), eventsAt(t, l)
	rnd := rand.New(rand.NewPCG(1, 200))
	for i := range kills {
		time.Sleep(time.Duration(rnd.IntN(int(400 * time.Millisecond))))
		r.kill()
		all = append(all, r.events...)
		now := eventsAt(t, l)
		if len(now) < len(disk) || !reflect.DeepEqual(now[:len(disk)], disk) {
			t.Fatalf("kill %d: of %d records that were there some are gone", i, len(disk))
		}
		disk = now
		r = l.start(nil, "resume", "--plain", "--json", "--sound", "off")
		if e := r.events[0]; e.Kind != sequence.Resumed || e.Text != "" {
			t.Fatalf("kill %d: first %+v; want resumed, exact", i, e)
		}
		agrees(t, r.events[0].At, faster, first, r.first, 0)
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
	all = append(all, r.events...)
	if slices.ContainsFunc(all, kind(sequence.Held)) || slices.ContainsFunc(all, kind(sequence.GapFound)) {
		t.Error("held, or a gap")
	}
	onceEach(t, all)
}

// Stopped for longer than a stall (SIGSTOP, as a laptop's freezer does it): found at
// once afterwards, and told; what it missed was no move, so nothing is held.
func TestStoppedForAWhile(t *testing.T) {
	t.Parallel()
	const stopped = 10*time.Second + 500*time.Millisecond
	l := newLaptop(t, "1h", "1s", "1s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	l.onDisk(r.until(kind(sequence.StepBegan)))
	before := len(r.events)
	r.cmd.Process.Signal(unix.SIGSTOP)
	time.Sleep(stopped)
	r.cmd.Process.Signal(unix.SIGCONT)
	gap := r.until(kind(sequence.GapFound))
	for _, e := range r.events[before:] { // nothing is decided before it is found
		if e.At >= gap.At && e != gap {
			t.Errorf("%s at %v, before the gap up to %v was found", e.Kind, e.At, gap.At)
		}
	}
	if most := boottime() - r.first[0]; gap.Since == nil || gap.At-*gap.Since < 10*time.Second || gap.At-*gap.Since > most {
		t.Errorf("a gap from %v to %v; want %v or more, and less than the %v since the start", gap.Since, gap.At, stopped, most)
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
	if slices.ContainsFunc(r.events, kind(sequence.Held)) {
		t.Error("held, though no move was missed")
	}
}
