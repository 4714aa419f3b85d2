//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// Ended while it is being laid out, the demo still leaves nothing.
func TestDemoEndedEarlyLeavesNothing(t *testing.T) {
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cmd := exec.Command(exe, "demo", "--plain")
	cmd.Env = append(os.Environ(), probeAs+"=wetside", "TMPDIR="+dir, "HOME="+dir)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	laid := func() int {
		list, err := filepath.Glob(filepath.Join(dir, "wetside-demo-*", "*", "*", "*"))
		if err != nil {
			t.Fatal(err)
		}
		return len(list)
	}
	for range 1000 {
		if laid() > 0 {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	if laid() == 0 {
		t.Fatal("nothing is laid out")
	}
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err == nil {
		t.Error("it was done before it was ended")
	}
	if list, _ := filepath.Glob(filepath.Join(dir, "wetside-demo-*")); len(list) > 0 {
		t.Errorf("left: %q", list)
	}
}
