package main

// The test program is also wetside itself, so that scripts run the code that is
// under test.

import (
	"flag"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// atOnce is how many end-to-end tests run at a time: they wait far more than they work.
const atOnce = "16"

func TestMain(m *testing.M) {
	if os.Getenv("WETSIDE_E2E") != "" {
		flag.Set("test.parallel", atOnce)
	}
	testscript.Main(m, map[string]func(){"wetside": main})
}
