package main

// Another user of the machine, who lays out everything in the shared temporary folder that a
// session could stumble over: nothing happens. Needs root, to be another user.

import (
	"fmt"
	"hash/crc32"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// nobody is the other user's number.
const nobody = 65534

// otherUser carries out shell commands as somebody else.
func otherUser(t *testing.T, script string, args ...string) string {
	t.Helper()
	cmd := exec.Command("sh", append([]string{"-ec", script, "sh"}, args...)...)
	cmd.Dir = "/"
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v: %s", script, err, out)
	}
	return strings.TrimSpace(string(out))
}

// sharedMachine is a laptop whose temporary folder everybody may write into, as /tmp.
func sharedMachine(t *testing.T) (l machine, shared, predictable string) {
	t.Helper()
	if os.Geteuid() != 0 {
		skipOrFail(t, "only root can be another user")
	}
	shared, err := os.MkdirTemp("/tmp", "wetside-shared-") // t.TempDir lies where others cannot go
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(shared) })
	if err := os.Chmod(shared, 0o777|os.ModeSticky); err != nil {
		t.Fatal(err)
	}
	l = newLaptop(t, "6s", "6s", "6s")
	l.env = append(l.env, "TMPDIR="+shared)
	sessions := l.path("xdg_state_home/wetside/sessions") // as journal.Folders has it
	predictable = filepath.Join(shared, fmt.Sprintf("wetside-0-%08x", crc32.ChecksumIEEE([]byte(sessions))))
	return l, shared, predictable
}

func TestAnotherUserEndsNothing(t *testing.T) {
	t.Parallel()
	l, _, trap := sharedMachine(t)
	otherUser(t, `mkdir -m 777 "$1"`, trap)
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	id := r.events[0].ID
	precious := l.path("precious")
	if err := os.WriteFile(precious, []byte("the recipes of a lifetime\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	// A request by a process that lives, and a lock beside it, held.
	asking := exec.Command("sh", "-c", `umask 0; : > "$1/$2.lock"; exec 9< "$1/$2.lock"; flock 9; echo $$ > "$1/$2.request"; exec sleep 60`, "sh", trap, id)
	asking.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	asking.Dir = "/"
	if err := asking.Start(); err != nil {
		t.Fatal(err)
	}
	defer asking.Process.Kill()
	for until := time.Now().Add(testLimit); ; time.Sleep(10 * time.Millisecond) {
		if text, _ := os.ReadFile(filepath.Join(trap, id+".request")); len(text) > 0 {
			break
		}
		if time.Now().After(until) {
			t.Fatal("no trap was laid")
		}
	}
	time.Sleep(2500 * time.Millisecond) // requests are looked for once a second
	if err := r.cmd.Process.Signal(syscall.Signal(0)); err != nil {
		t.Fatalf("the session has ended: %v", err)
	}
	for _, e := range r.events {
		if e.Kind == sequence.HandedOver {
			t.Fatal("the session was handed over")
		}
	}
	if _, err := os.Stat(filepath.Join(trap, id+".request")); err != nil {
		t.Error("the other user's file was touched")
	}
	// A link where a request would be written.
	otherUser(t, `rm -f "$1/$2.request"; ln -s "$3" "$1/$2.request"`, trap, id, precious)
	again := l.start(nil, "resume", "--plain", "--json", "--sound", "off") // asks the first for it
	if again.events[0].Kind != sequence.Resumed {
		t.Errorf("first %+v; want resumed", again.events[0])
	}
	if text, _ := os.ReadFile(precious); string(text) != "the recipes of a lifetime\n" {
		t.Errorf("a file was overwritten: %q", text)
	}
	again.finish(0)
	r.finish(0)
}

// Where the session's own folders take nothing and the temporary one's name is taken by
// somebody else, the session is kept in a folder that nobody could guess, and found there.
func TestAnotherUserTakesTheLastFolder(t *testing.T) {
	t.Parallel()
	l, shared, trap := sharedMachine(t)
	otherUser(t, `mkdir -m 777 "$1"`, trap)
	for _, name := range []string{"xdg_state_home", "xdg_runtime_dir"} { // root writes anywhere but into a file
		os.Remove(l.path(name))
		if err := os.WriteFile(l.path(name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	r.until(func(e sequence.Event) bool { return e.At > time.Second })
	r.kill()
	if list, _ := os.ReadDir(trap); len(list) > 0 {
		t.Errorf("%d files in a folder that is not ours", len(list))
	}
	kept, _ := filepath.Glob(filepath.Join(shared, "wetside-0-*.*", "*.jsonl"))
	if len(kept) != 1 {
		t.Fatalf("kept in %q; expected one file in a folder of our own", kept)
	}
	for path, want := range map[string]os.FileMode{kept[0]: 0o600, filepath.Dir(kept[0]): 0o700} {
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v; expected mode %o", path, info, err, want)
		}
	}
	again := l.start(nil, "resume", "--plain", "--json", "--sound", "off")
	if e := again.events[0]; e.Kind != sequence.Resumed {
		t.Errorf("first %+v; want resumed", e)
	}
	again.finish(0)
}

// In a folder of our own a request counts by its owner: one that root has put there for somebody
// else, or a link, is nothing.
func TestARequestOfAnotherUser(t *testing.T) {
	t.Parallel()
	l, _, _ := sharedMachine(t)
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	asking := exec.Command("sleep", "60")
	if err := asking.Start(); err != nil {
		t.Fatal(err)
	}
	defer asking.Process.Kill()
	name := l.path(filepath.Join("xdg_state_home/wetside/sessions", r.events[0].ID+".request"))
	l.onDisk(r.events[0])
	if err := os.WriteFile(name+".new", fmt.Appendln(nil, asking.Process.Pid), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chown(name+".new", nobody, nobody); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(name+".new", name); err != nil {
		t.Fatal(err)
	}
	r.until(kind(sequence.SessionDone))
	for _, e := range r.events {
		if e.Kind == sequence.HandedOver {
			t.Fatal("another user's request was believed")
		}
	}
	r.finish(0)
}
