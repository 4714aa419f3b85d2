package main

import (
	"os"
	"testing"
)

// skipOrFail skips a test, or fails it where every part must be there.
func skipOrFail(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("WETSIDE_E2E") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}
