package main

// The record of a session under attack from outside, with the program as it is built: its
// journal moved, cut and swept away; killed right after it told something; taken up where it
// was damaged; several begun at once.

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// journalFile is the one journal on the laptop.
func (l machine) journalFile() string {
	l.t.Helper()
	found, _ := filepath.Glob(filepath.Join(l.store().Folders[0], "*.jsonl"))
	if len(found) != 1 {
		l.t.Fatalf("journals: %q", found)
	}
	return found[0]
}

// keptEvents are those of the one session on the laptop, whichever of its files has them.
func (l machine) keptEvents() (events []sequence.Event) {
	l.t.Helper()
	list := l.store().List()
	if len(list) != 1 {
		l.t.Fatalf("%d sessions; want one", len(list))
	}
	kept, err := l.store().Read(list[0].ID)
	if err != nil {
		l.t.Fatal(err)
	}
	for _, r := range kept.Records {
		events = append(events, r.Event)
	}
	return events
}

// shell runs lines in a folder.
func shell(folder, lines string) error {
	cmd := exec.Command("sh", "-ec", lines)
	cmd.Dir, cmd.Env = folder, append(os.Environ(), "HOME="+folder, "GIT_CONFIG_NOSYSTEM=1")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	return nil
}

const gitSetUp = `git init -q -b main .; git config user.email tern@localhost; git config user.name tern
git add -A; git commit -qm sessions; git clone -q --bare . ../remote.git; git remote add origin ../remote.git
git clone -q ../remote.git ../other; cd ../other; git config user.email tern@localhost; git config user.name tern
echo tide > tide; git add tide; git commit -qm tide; git push -q origin main; cd ../sessions
`

// journalAttacks are what happens to a journal beside the running program; later is what
// happens after more was written.
var journalAttacks = map[string]struct{ at, later string }{
	"moved":    {"", `mkdir ../away; mv *.jsonl ../away`},
	"deleted":  {"", `rm *.jsonl`},
	"replaced": {`cp *.jsonl ../copy`, `cp ../copy new; mv new *.jsonl`},
	"cut":      {"", `truncate -s 100 *.jsonl`},
	"linked":   {"", `f=$(ls *.jsonl); mv $f ../there; ln -s ../there $f`},
	"pulled":   {gitSetUp, `git pull -q --rebase --autostash origin main`},
	"cleaned":  {`git init -q .`, `git clean -fdxq .`},
}

// Whatever happens to its journal, a session says so within a second and loses nothing: it is
// killed afterwards, and taken up exactly.
func TestJournalAttackedUnderASession(t *testing.T) {
	requireTool(t, "git", "--version")
	for name, attack := range journalAttacks {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			l := newLaptop(t, "1h", "1s", "1s")
			r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
			note := func(text string) {
				fmt.Fprintln(r.in, "note "+text)
				l.onDisk(r.until(func(e sequence.Event) bool { return e.Text == text }))
			}
			note("before")
			if err := shell(filepath.Dir(l.journalFile()), attack.at); err != nil {
				t.Fatal(err)
			}
			note("between")
			if err := shell(filepath.Dir(l.journalFile()), attack.later); err != nil {
				t.Fatal(err)
			}
			began := time.Now()
			trouble := r.until(kind(sequence.FollowerFailed))
			if took := time.Since(began); took > time.Second && full || !strings.Contains(trouble.Text, "now kept in") {
				t.Errorf("told %q after %v; expected where it is kept, within a second", trouble.Text, took)
			}
			note("after")
			r.kill()
			again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
			if e := again.events[0]; e.Kind != sequence.Resumed || e.Text != "" {
				t.Errorf("taken up with %+v; want exact", e)
			}
			agrees(t, again.events[0].At, 1, r.first, again.first, 0)
			again.kill()
			kept := l.keptEvents()
			for _, e := range r.events {
				if !slices.ContainsFunc(kept, func(k sequence.Event) bool { return sameEvent(k, e) }) {
					t.Errorf("lost: %+v", e)
				}
			}
		})
	}
}

// sameEvent compares what is told with what is kept.
func sameEvent(a, b sequence.Event) bool {
	x, errX := sequence.Marshal(a)
	y, errY := sequence.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// Nothing that can be swept out of the folder frees a session that runs.
func TestCleanedFolderFreesNoSession(t *testing.T) {
	t.Parallel()
	requireTool(t, "git", "--version")
	l := newLaptop(t, "1h", "1s", "1s")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	l.onDisk(r.until(kind(sequence.StepBegan)))
	id := r.events[0].ID
	if err := shell(filepath.Dir(l.journalFile()), `git init -q .; git clean -fdxq -e '*.jsonl' .; rm -rf .git`); err != nil {
		t.Fatal(err)
	}
	for range 50 {
		if w, _, err := l.store().TakeUp(id); err == nil {
			w.Close()
			t.Fatal("a second writer has the session")
		}
	}
	if pid, held := l.store().HeldBy(id); !held || pid != r.cmd.Process.Pid {
		t.Errorf("held by %d, %v; want process %d", pid, held, r.cmd.Process.Pid)
	}
	// A copy in its place has no lock; its writer lives all the same, and is asked.
	if err := shell(filepath.Dir(l.journalFile()), `f=$(ls *.jsonl); cp $f new; mv new $f`); err != nil {
		t.Fatal(err)
	}
	again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
	for r.next() {
	}
	if last := r.events[len(r.events)-1]; last.Kind != sequence.HandedOver || again.events[0].Kind != sequence.Resumed {
		t.Errorf("the first ended with %+v, the second began with %+v; want it handed over", last, again.events[0])
	}
}

// Killed 0 to 10 ms after it told something: what was told without "pending" is kept.
func TestToldIsKept(t *testing.T) {
	t.Parallel()
	kills := 12
	if full {
		kills = 200
	}
	rnd := rand.New(rand.NewPCG(3, 60))
	pending, told := 0, 0
	for i := range kills {
		l := newLaptop(t, "4m", "4m", "4m")
		r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off", "--rehearse", "60")
		for range 1 + rnd.IntN(8) {
			fmt.Fprintf(r.in, "note wave %d\n", i)
			r.next()
		}
		time.Sleep(time.Duration(rnd.IntN(int(10 * time.Millisecond))))
		r.kill()
		kept := l.keptEvents()
		for _, line := range r.lines {
			told++
			if bytes.Contains(line, []byte(`"pending":true`)) {
				pending++
				continue
			}
			var e sequence.Event
			if err := sequence.Unmarshal(line, &e); err != nil {
				t.Fatal(err)
			}
			if !slices.ContainsFunc(kept, func(k sequence.Event) bool { return sameEvent(k, e) }) {
				t.Errorf("kill %d: told and lost: %s", i, line)
			}
		}
	}
	t.Logf("%d kills, %d events told, %d of them as pending; none lost of the rest", kills, told, pending)
}

// The disk takes half a second for each record, and the program is killed as the transfer is
// told, which no record has yet: the record of what was due says so to who takes it up.
func TestATransferThatWasCutOffIsTold(t *testing.T) {
	t.Parallel()
	const inject = "fsync:delay_enter=500000"
	requireTool(t, "strace", "-f", "-qq", "--seccomp-bpf", "-o", "/dev/null", "-e", "trace=fsync", "-e", "inject="+inject, "true")
	l := newLaptop(t, "8s", "1h", "1s")
	wrap := []string{"strace", "-f", "-qq", "--seccomp-bpf", "-o", "/dev/null", "-e", "trace=fsync", "-e", "inject=" + inject}
	r := l.start(wrap, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	time.Sleep(7500*time.Millisecond - (boottime() - r.first[1]))
	fmt.Fprintln(r.in, strings.Repeat("note gulls\n", 20)) // ten seconds of fsync before the transfer's own
	r.until(func(e sequence.Event) bool { return e.Kind == sequence.CueGiven && e.Cue == sequence.CueTransfer })
	exec.Command("pkill", "-9", "-P", fmt.Sprint(r.cmd.Process.Pid)).Run() // strace's child, and its own
	r.kill()
	kept := l.keptEvents()
	again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
	if !slices.ContainsFunc(kept, kind(sequence.TransferDue)) {
		t.Fatalf("no record that a transfer was due")
	}
	if e := again.events[0]; !strings.Contains(e.Text, "the transfer out of develop, due at 0:08, is not on record") {
		t.Errorf("taken up with %+v after %+v", e, kept[max(0, len(kept)-3):])
	}
	again.kill()
}

// Sessions begun in one instant are all kept.
func TestBegunInOneInstant(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1s", "1s", "1s")
	var all sync.WaitGroup
	const n = 5
	for range n {
		cmd := l.command(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off", "--rehearse", "10")
		all.Go(func() {
			if out, err := cmd.CombinedOutput(); err != nil || bytes.Contains(out, []byte(`"trouble"`)) {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
	all.Wait()
	list := l.store().List()
	for _, e := range list {
		if e.Status != journal.Done || e.First.Event.ID != e.ID {
			t.Errorf("%s is %s, of session %s", e.ID, e.Status, e.First.Event.ID)
		}
	}
	if len(list) != n {
		t.Errorf("%d sessions are kept; want %d", len(list), n)
	}
}

// Without a name, film goes before a rehearsal, and the latest by the record before the latest
// by name; a damaged one is offered by its last good line, and taken up from there on request.
func TestResumeChoosesAndOffers(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "1h", "1s", "1s")
	begin := func(args ...string) string {
		r := l.start(nil, append([]string{"run", "tern.toml", "--plain", "--json", "--sound", "off"}, args...)...)
		fmt.Fprintln(r.in, "note gulls")
		l.onDisk(r.until(kind(sequence.Noted)))
		r.kill()
		return r.events[0].ID
	}
	resumed := func() string {
		r := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
		defer r.kill()
		for _, e := range l.store().List() {
			if pid, held := l.store().HeldBy(e.ID); held && pid == r.cmd.Process.Pid {
				return e.ID
			}
		}
		return ""
	}
	first := begin()
	second := begin()
	rehearsal := begin("--rehearse", "2")
	if got := resumed(); got != second {
		t.Errorf("took up %s; want %s: the latest with film, not the rehearsal %s", got, second, rehearsal)
	}
	// The first goes on later than the second, whatever its name.
	r := l.start(nil, "resume", first, "--plain", "--json", "--sound", "off")
	r.kill()
	if got := resumed(); got != first {
		t.Errorf("took up %s; want %s, whose record goes on latest", got, first)
	}
	// It is damaged before its last lines.
	path := filepath.Join(l.store().Folders[0], first+".jsonl")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(text, []byte("gulls"))
	text[at]++
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	offer := l.command([]string{"timeout", "20"}, "resume", "--plain", "--sound", "off")
	out, err := offer.CombinedOutput()
	for _, want := range []string{"journal is damaged", "film was in develop for 0:0", "--from-last-good-line", first} {
		if err == nil || !strings.Contains(string(out), want) {
			t.Errorf("%v: %s; expected %q", err, out, want)
		}
	}
	if now, _ := os.ReadFile(path); !bytes.Equal(now, text) {
		t.Error("the damaged file was changed")
	}
	r = l.start(nil, "resume", "--from-last-good-line", "--plain", "--json", "--sound", "off")
	if e := r.events[0]; e.Kind != sequence.Resumed {
		t.Errorf("taken up with %+v", e)
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(0)
	if e, err := l.store().Read(first); err != nil || e.Status != journal.Stopped {
		t.Errorf("%s: %v", e.Status, err)
	}
	if now, _ := os.ReadFile(path + ".damaged"); !bytes.Equal(now, text) {
		t.Error("the damaged file is not beside it")
	}
}
