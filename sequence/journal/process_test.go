package journal

// What needs a second process: the lock, and kill -9 between and inside writes.

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence/clock"
)

// The test program is its own second process: with this set, it does as it says.
const actAs = "WETSIDE_JOURNAL_ACT_AS"

func TestMain(m *testing.M) {
	if role := os.Getenv(actAs); role != "" {
		os.Exit(act(role, os.Args[1:]))
	}
	os.Exit(m.Run())
}

// act plays a role in the folders given. "append" writes records without end,
// "fill" a thousand; each tells on stdout what is acknowledged, and trouble.
func act(role string, folders []string) int {
	runtime.LockOSThread() // strace counts the calls of each thread
	s := Store{Folders: folders}
	begun := record(0)
	if role == "hold" {
		begun.Clock = clock.System().Read()
	}
	w, err := s.Create(testID, begun)
	for i := 0; ; i++ {
		trouble := (*WriteError)(nil)
		switch {
		case errors.As(err, &trouble):
			fmt.Println("trouble", trouble.SavedElsewhere(), trouble)
		case err != nil:
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		if trouble == nil || trouble.SavedElsewhere() {
			fmt.Println("ack", i)
		}
		switch {
		case role == "hold":
			io.Copy(io.Discard, os.Stdin)
			return 0
		case role == "fill" && i == 1000, role == "few" && i == 12:
			return 0
		}
		err = w.Append(record(i + 1))
	}
}

// second starts the test program in a role, under a wrapping command or none.
func second(t *testing.T, role string, wrap []string, folders ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	args := append(append(append([]string(nil), wrap...), self), folders...)
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Env = append(os.Environ(), actAs+"="+role)
	return cmd
}

func TestSecondProcessIsRefused(t *testing.T) {
	s := newStore(t, 2)
	cmd := second(t, "hold", nil, s.Folders...)
	in, _ := cmd.StdinPipe()
	out, _ := cmd.StdoutPipe()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil || line != "ack 0\n" {
		t.Fatalf("second process said %q: %v", line, err)
	}
	held := (*HeldError)(nil)
	if _, _, err := s.TakeUp(testID); !errors.As(err, &held) || held.PID != cmd.Process.Pid || !strings.Contains(err.Error(), strconv.Itoa(cmd.Process.Pid)) {
		t.Errorf("%v; expected process %d to hold it", err, cmd.Process.Pid)
	}
	if _, err := s.Create(testID, record(0)); !errors.Is(err, fs.ErrExist) {
		t.Errorf("created again: %v", err)
	}
	if pid, held := s.HeldBy(testID); !held || pid != cmd.Process.Pid {
		t.Errorf("held by %d, %v", pid, held)
	}
	if got, err := s.Read(testID); err != nil || len(got.Records) != 1 {
		t.Errorf("reading while held: %v", err)
	}
	if runtime.GOOS == "linux" { // a copy in its place has no lock, but its writer lives
		copied, err := os.ReadFile(filepath.Join(s.Folders[0], testID+suffix))
		if err == nil {
			err = replaceWith(filepath.Join(s.Folders[0], testID+suffix), string(copied))
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := s.TakeUp(testID); !errors.As(err, &held) || held.PID != cmd.Process.Pid {
			t.Errorf("a copy was taken up: %v", err)
		}
	}
	cmd.Process.Kill()
	w, _, err := s.TakeUp(testID) // once it is dead, though nobody has asked for its status yet
	for until := time.Now().Add(time.Minute); errors.As(err, &held) && time.Now().Before(until); time.Sleep(time.Millisecond) {
		w, _, err = s.TakeUp(testID)
	}
	if err != nil {
		t.Fatalf("after its death: %v", err)
	}
	cmd.Wait()
	w.Close()
}

// A session that fled to the second folder is held there too.
func TestLockLooksInEveryFolder(t *testing.T) {
	s := newStore(t, 2)
	w := write(t, Store{Folders: s.Folders[1:]}, 2)
	planted(t, s, text(t, 1))
	if _, err := s.Lock(testID); !errors.As(err, new(*HeldError)) {
		t.Errorf("locked twice: %v", err)
	}
	w.Close()
	again, err := s.Lock(testID)
	if err != nil {
		t.Fatal(err)
	}
	again.Release()
	if err := again.Release(); err != nil {
		t.Errorf("releasing twice: %v", err)
	}
}

func TestKilledAtAnyMoment(t *testing.T) {
	times := 25
	if os.Getenv("WETSIDE_E2E") != "" {
		times = 200
	}
	dir := t.TempDir()
	for i := range times {
		s := Store{Folders: []string{filepath.Join(dir, strconv.Itoa(i))}}
		cmd := second(t, "append", nil, s.Folders...)
		out, _ := cmd.StdoutPipe()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		acked, wait := -1, rand.IntN(40)
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			fmt.Sscanf(lines.Text(), "ack %d", &acked)
			if acked == wait {
				cmd.Process.Kill() // and read on: what it told before it died counts
			}
		}
		cmd.Wait()
		w, got, err := s.TakeUp(testID)
		if err != nil || len(got.Records) <= acked {
			t.Fatalf("kill %d: record %d was acknowledged, %d found: %v", i, acked, len(got.Records), err)
		}
		samePrefix(t, got.Records)
		n := len(got.Records)
		if err := w.Append(record(n)); err != nil {
			t.Fatal(err)
		}
		w.Close()
		readBack(t, s, n+1)
	}
}

// replaceWith puts another file in the place of one.
func replaceWith(path, text string) error {
	if err := os.WriteFile(path+".other", []byte(text), 0o600); err != nil {
		return err
	}
	return os.Rename(path+".other", path)
}
