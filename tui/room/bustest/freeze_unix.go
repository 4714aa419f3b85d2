//go:build unix

package bustest

// A process stopped and woken again, so that a bus does not answer.

import (
	"os"
	"syscall"
	"testing"
)

func stopProcess(t testing.TB, p *os.Process) {
	t.Helper()
	if err := p.Signal(syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
}
