//go:build !unix

package bustest

// Where no process can be stopped, such tests are skipped.

import (
	"os"
	"testing"
)

func stopProcess(t testing.TB, _ *os.Process) { t.Skip("nothing can be stopped here") }
