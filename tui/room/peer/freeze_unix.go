//go:build unix

package peer

import (
	"os"
	"syscall"
	"testing"
)

func freeze(t testing.TB, p *os.Process) {
	t.Helper()
	if err := p.Signal(syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
}
