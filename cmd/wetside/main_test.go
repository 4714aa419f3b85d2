package main

// The test program is also wetside itself, so that scripts run the code that is
// under test.

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"wetside": main})
}
