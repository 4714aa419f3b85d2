package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

const sample = `package p

func f(a, b int, on bool) int {
	if a < 8 && !on {
		return min(a+b, 3)
	}
	g()
	return 0
}
`

// What is changed in a text, by hand.
func TestMutations(t *testing.T) {
	found, err := mutations("p.go", []byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range found {
		got = append(got, m.from+" => "+m.to)
	}
	for _, want := range []string{"< => <=", "8 => 10", "8 => 6", "&& => ||", "! => ", "min => max", "+ => -", "3 => 4", "3 => 2",
		"g() => {}", "0 => 1", "a < 8 && !on => !(a < 8 && !on)"} {
		if !slices.Contains(got, want) {
			t.Errorf("%q is not changed: %q", want, got)
		}
	}
	if text := string(found[0].whole([]byte(sample))); strings.Count(text, "\n") != strings.Count(sample, "\n") || text == sample {
		t.Errorf("the first change gives %q", text)
	}
}

// A change that a test notices dies; one that none notices is told, unless it is explained.
func TestSurvivorsAreTold(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("no Go here to build with: ", err) // as under wine
	}
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module m\n\ngo 1.24\n", "p.go": "package m\n\nfunc under(n int) bool { return n < 8 }\n",
		"p_test.go": "package m\n\nimport \"testing\"\n\nfunc TestUnder(t *testing.T) {\n\tif under(9) || !under(6) {\n\t\tt.Fatal()\n\t}\n}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	var told strings.Builder
	r := run{part: 1, parts: 1, out: &told, explained: map[string]string{}}
	if err := r.packages([]string{"."}); err != nil {
		t.Fatal(err)
	}
	const limit = "p.go: func under(n int) bool { return n < 8 }: < => <="
	if r.survived != 1 || !strings.Contains(told.String(), limit) || !strings.Contains(told.String(), "number: 2 killed") {
		t.Errorf("told %d survivors:\n%s", r.survived, told.String())
	}
	r = run{part: 1, parts: 1, out: &told, explained: map[string]string{limit: "for this test"}, until: time.Now().Add(time.Minute)}
	if err := r.packages([]string{"."}); err != nil || r.survived != 0 {
		t.Errorf("%v; %d survive that are explained", err, r.survived)
	}
}
