//go:build unix

package bustest

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
