// Package goldentest reads cases that a program outside of the project worked out, one a line as JSON
// (testdata/*.jsonl, beside the script that made them). For tests alone.
package goldentest

import (
	"bufio"
	"encoding/json"
	"os"
	"testing"
)

// Read gives all cases of a file, or every so many-th; it fails where the file does not have as many as
// expected.
func Read[T any](t testing.TB, name string, expected, every int) (all []T) {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, n := bufio.NewScanner(f), 0
	for lines.Buffer(nil, 1<<20); lines.Scan(); n++ {
		if n%every != 0 {
			continue
		}
		var one T
		if err := json.Unmarshal(lines.Bytes(), &one); err != nil {
			t.Fatalf("%s:%d: %v", name, n+1, err)
		}
		all = append(all, one)
	}
	if err := lines.Err(); err != nil || n != expected {
		t.Fatalf("%s: %d cases, %v; expected %d", name, n, err, expected)
	}
	return all
}
