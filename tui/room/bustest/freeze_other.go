//go:build !unix

package bustest

import (
	"os"
	"testing"
)

func stopProcess(t testing.TB, _ *os.Process) { t.Skip("nothing can be stopped here") }
