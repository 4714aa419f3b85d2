package main

// For the scripts: what happens to a ledger outside wetside.

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
)

// ledgerCommands change the ledger's one file.
var ledgerCommands = map[string]func(*testscript.TestScript, bool, []string){
	// used N: so many lines of the ledger say that film went through a bottle.
	"used": func(ts *testscript.TestScript, _ bool, args []string) {
		if n := strings.Count(ts.ReadFile(ledgerFile(ts)), `"did":"used"`); strconv.Itoa(n) != args[0] {
			ts.Fatalf("%d lines; want %s", n, args[0])
		}
	},
	// double: a merge wrote every line twice, into another laptop's file.
	"double": func(ts *testscript.TestScript, _ bool, _ []string) {
		path := ledgerFile(ts)
		text := ts.ReadFile(path)
		ts.Check(os.WriteFile(filepath.Join(filepath.Dir(path), "other.baths.jsonl"), []byte(text+text), 0o600))
	},
	// unbook: the program died before its session was booked.
	"unbook": func(ts *testscript.TestScript, _ bool, _ []string) {
		path := ledgerFile(ts)
		ts.Check(os.Remove(filepath.Join(filepath.Dir(path), "other.baths.jsonl")))
		var kept []string
		for _, line := range strings.SplitAfter(ts.ReadFile(path), "\n") {
			if !strings.Contains(line, `"did":"used"`) {
				kept = append(kept, line)
			}
		}
		ts.Check(os.WriteFile(path, []byte(strings.Join(kept, "")), 0o600))
	},
	// future: a bottle mixed by a clock that ran an hour ahead.
	"future": func(ts *testscript.TestScript, _ bool, _ []string) {
		b, err := bottles.Ledger{Folder: filepath.Dir(ledgerFile(ts))}.Read()
		ts.Check(err)
		bath := b.Bottles[0].Bath
		line, err := sequence.Marshal(bottles.Entry{V: 1, At: time.Now().Add(time.Hour), Action: bottles.Mixed, Bottle: "ahead", Bath: &bath})
		ts.Check(err)
		ts.Check(os.WriteFile(filepath.Join(filepath.Dir(ledgerFile(ts)), "other.baths.jsonl"), append(line, '\n'), 0o600))
	},
	// garble: a line that was cut short.
	"garble": func(ts *testscript.TestScript, _ bool, _ []string) {
		path := ledgerFile(ts)
		ts.Check(os.WriteFile(path, []byte(ts.ReadFile(path)+`{"v":1,"at":"2026-`), 0o600))
	},
}

func ledgerFile(ts *testscript.TestScript) string {
	found, _ := filepath.Glob(filepath.Join(ts.Getenv("XDG_DATA_HOME"), "wetside", "baths", "*.jsonl"))
	for _, path := range found {
		if filepath.Base(path) != "other.baths.jsonl" {
			return path
		}
	}
	ts.Fatalf("no ledger in %q", found)
	return ""
}
