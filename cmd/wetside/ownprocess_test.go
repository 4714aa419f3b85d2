package main

// Tests that set the process's environment or folder, or live in virtual time, cannot run beside
// others in it. Each gets a process of its own, so that all run at a time.

import (
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

// onlyThis names the test that a process is for.
const onlyThis = "WETSIDE_ONLY_TEST"

// ownProcess runs the test in a process of its own, beside others, and reports whether it did so:
// its caller is done then. In that process it reports false.
func ownProcess(t *testing.T) bool {
	t.Helper()
	if os.Getenv(onlyThis) == t.Name() {
		return false
	}
	t.Parallel()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, "-test.run=^"+regexp.QuoteMeta(t.Name())+"$", "-test.v")
	cmd.Env = append(os.Environ(), onlyThis+"="+t.Name())
	said, err := cmd.CombinedOutput()
	switch {
	case err != nil:
		t.Errorf("%v\n%s", err, said)
	case strings.Contains(string(said), "--- SKIP: "+t.Name()):
		t.Skipf("%s", said)
	case !strings.Contains(string(said), "--- PASS: "+t.Name()):
		t.Errorf("it did not run:\n%s", said)
	}
	return true
}
