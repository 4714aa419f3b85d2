package journal

// Real faults, where unshare and strace are installed: a file system that is
// full, an fsync that fails, one that is slow. WETSIDE_E2E=1 makes a missing
// tool a failure.

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// need skips a test, or fails it in an end-to-end run, where a command that
// only tries the tool does not work.
func need(t *testing.T, try ...string) {
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

// played runs a role and returns its last acknowledged record and the lines of
// trouble.
func played(t *testing.T, role string, wrap []string, folders ...string) (acked string, trouble []string) {
	t.Helper()
	cmd := second(t, role, wrap, folders...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, &stderr)
	}
	for line := range strings.Lines(string(out)) {
		if rest, ok := strings.CutPrefix(line, "ack "); ok {
			acked = strings.TrimSpace(rest)
		} else {
			trouble = append(trouble, strings.TrimSpace(line))
		}
	}
	return acked, trouble
}

func TestDiskFull(t *testing.T) {
	userns := []string{"unshare", "-U", "-r", "-m"}
	need(t, append(userns, "true")...)
	s := newStore(t, 2)
	small := filepath.Join(t.TempDir(), "small")
	if err := os.Mkdir(small, 0o700); err != nil {
		t.Fatal(err)
	}
	mount := `mount -t tmpfs -o size=64k,mode=0700 tmpfs "$0" && exec "$@"`
	need(t, append(userns, "sh", "-c", mount, small, "true")...)
	acked, trouble := played(t, "fill", append(userns, "sh", "-c", mount, small), small, s.Folders[1])
	if acked != "1000" || len(trouble) != 1 || !strings.Contains(trouble[0], "no space left on device") ||
		!strings.Contains(trouble[0], "kept in "+s.Folders[1]) {
		t.Errorf("acknowledged up to %s; told %q", acked, trouble)
	}
	readBack(t, s, 1001)
}

// Nothing takes it: told, and the process lives.
func TestDiskFullEverywhere(t *testing.T) {
	userns := []string{"unshare", "-U", "-r", "-m"}
	need(t, append(userns, "true")...)
	small := t.TempDir()
	mount := `mount -t tmpfs -o size=64k,mode=0700 tmpfs "$0" && exec "$@"`
	need(t, append(userns, "sh", "-c", mount, small, "true")...)
	acked, trouble := played(t, "fill", append(userns, "sh", "-c", mount, small), small)
	if acked == "1000" || len(trouble) < 100 || !strings.Contains(trouble[0], "memory alone") {
		t.Errorf("acknowledged up to %s; told %d times", acked, len(trouble))
	}
}

func strace(t *testing.T, inject string) []string {
	need(t, "strace", "-f", "-qq", "-o", "/dev/null", "-e", "trace=fsync", "-e", "inject="+inject, "true")
	return []string{"strace", "-f", "-qq", "-o", "/dev/null", "-e", "trace=fsync", "-e", "inject=" + inject}
}

func TestFsyncFails(t *testing.T) {
	s := newStore(t, 2)
	acked, trouble := played(t, "few", strace(t, "fsync:error=EIO:when=6"), s.Folders...)
	if acked != "12" || len(trouble) != 1 || !strings.Contains(trouble[0], "input/output error") {
		t.Errorf("acknowledged up to %s; told %q", acked, trouble)
	}
	got, err := s.Read(testID)
	if err != nil || len(got.Records) != 13 || !strings.HasSuffix(got.Path, ".2"+suffix) {
		t.Errorf("read %d records from %s: %v", len(got.Records), got.Path, err)
	}
	samePrefix(t, got.Records)
}

func TestFsyncAlwaysFails(t *testing.T) {
	s := newStore(t, 2)
	acked, trouble := played(t, "few", strace(t, "fsync:error=EIO"), s.Folders...)
	if acked != "" || len(trouble) != 13 || !strings.Contains(trouble[0], "memory alone") {
		t.Errorf("acknowledged up to %q; told %q", acked, trouble)
	}
}

// A slow disk is waited for, by the journal's own goroutine alone; nothing is
// lost and no segment is given up.
func TestFsyncIsSlow(t *testing.T) {
	s := newStore(t, 1)
	start := time.Now()
	acked, trouble := played(t, "few", strace(t, "fsync:delay_enter=30000"), s.Folders...)
	if took := time.Since(start); took < 13*30*time.Millisecond {
		t.Errorf("took %v: the delay was not injected", took)
	}
	if acked != "12" || len(trouble) != 0 {
		t.Errorf("acknowledged up to %s; told %q", acked, trouble)
	}
	readBack(t, s, 13)
}

func TestReadOnlyFileSystem(t *testing.T) {
	userns := []string{"unshare", "-U", "-r", "-m"}
	need(t, append(userns, "true")...)
	s := newStore(t, 2)
	if err := os.MkdirAll(s.Folders[0], 0o700); err != nil {
		t.Fatal(err)
	}
	mount := `mount -t tmpfs -o ro tmpfs "$0" && exec "$@"`
	need(t, append(userns, "sh", "-c", mount, s.Folders[0], "true")...)
	acked, trouble := played(t, "few", append(userns, "sh", "-c", mount, s.Folders[0]), s.Folders...)
	if acked != "12" || len(trouble) != 1 || !strings.Contains(trouble[0], "read-only file system") {
		t.Errorf("acknowledged up to %s; told %q", acked, trouble)
	}
	readBack(t, s, 13)
	if _, err := os.Stat(filepath.Join(s.Folders[0], testID+suffix)); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("first folder: %v", err)
	}
}
