//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Ended while it is being laid out, the demo still leaves nothing. Killed, it cannot but leave its folder: the next
// demo removes that.
func TestDemoEndedEarlyLeavesNothing(t *testing.T) {
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	found := func(pattern string) []string {
		list, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	var left []string
	for _, by := range []syscall.Signal{syscall.SIGKILL, syscall.SIGTERM} {
		cmd := exec.Command(exe, "demo", "--plain")
		cmd.Env = append(os.Environ(), probeAs+"=wetside", "TMPDIR="+dir, "HOME="+dir)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		laid := func() bool {
			for _, file := range found("wetside-demo-*/*/*/*") {
				if !slices.ContainsFunc(left, func(folder string) bool { return strings.HasPrefix(file, folder) }) {
					return true
				}
			}
			return false
		}
		for range 1000 {
			if laid() {
				break
			}
			time.Sleep(5 * time.Millisecond)
		}
		if !laid() {
			t.Fatal("nothing is laid out")
		}
		if err := cmd.Process.Signal(by); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err == nil {
			t.Error("it was done before it was ended")
		}
		if left = found("wetside-demo-*"); by == syscall.SIGKILL && len(left) != 1 {
			t.Errorf("killed, it left %q", left)
		}
	}
	if len(left) > 0 {
		t.Errorf("left: %q", left)
	}
}
