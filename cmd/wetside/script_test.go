package main

// Scripts: arguments in, exit status, stdout and stderr out. Each script's first
// comment names what it guards.

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/rogpeppe/go-internal/testscript"
)

func TestScripts(t *testing.T) {
	t.Parallel()
	cmds := map[string]func(*testscript.TestScript, bool, []string){
		"status": status, "value": value, "session": session, "damage": damage, "wave": wave,
	}
	maps.Copy(cmds, ledgerCommands)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			for name, dir := range map[string]string{"XDG_STATE_HOME": "state", "XDG_CONFIG_HOME": "config", "XDG_DATA_HOME": "data", "XDG_RUNTIME_DIR": "runtime"} {
				env.Setenv(name, filepath.Join(env.WorkDir, dir))
			}
			pictures, err := filepath.Abs(filepath.Join("..", "..", "chem", "scan", "testdata"))
			if err != nil {
				return err
			}
			env.Setenv("PICTURES", pictures)
			return os.Mkdir(filepath.Join(env.WorkDir, "runtime"), 0o700)
		},
		Cmds: cmds,
	})
}

// status N COMMAND...: runs it and wants that exit status.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND...")
	}
	got := "0"
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		got = strings.TrimPrefix(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("exit status %s; want %s\nstdout: %sstderr: %s", got, args[0], ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}

// value FILE PATH WANT [WITHIN]: the value in a JSON file (or stdout) at a path
// such as steps.develop.time_s or cues.0.at_s. An array is entered by a number,
// or by the name, kind, cue, code, event or check of its first element so called; "len" is its length.
func value(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 3 {
		ts.Fatalf("usage: value FILE PATH WANT [WITHIN]")
	}
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(args[0])), &v); err != nil {
		ts.Fatalf("%s: %v", args[0], err)
	}
	for _, key := range strings.Split(args[1], ".") {
		v = enter(ts, v, key)
	}
	within := 0.0
	if len(args) > 3 {
		within, _ = strconv.ParseFloat(args[3], 64)
	}
	same := fmt.Sprint(v) == args[2] || v == nil && args[2] == "null"
	if number, isNumber := v.(float64); isNumber {
		want, err := strconv.ParseFloat(args[2], 64)
		same = err == nil && math.Abs(number-want) <= within+1e-9
	}
	if same == neg {
		ts.Fatalf("%s is %v; want %s", args[1], v, args[2])
	}
}

func enter(ts *testscript.TestScript, v any, key string) any {
	switch v := v.(type) {
	case map[string]any:
		inner, ok := v[key]
		if !ok {
			ts.Fatalf("no key %q", key)
		}
		return inner
	case []any:
		if key == "len" {
			return float64(len(v))
		}
		if i, err := strconv.Atoi(key); err == nil && i < len(v) {
			return v[i]
		}
		for _, el := range v {
			m, _ := el.(map[string]any)
			for _, by := range []string{"name", "kind", "cue", "code", "event", "check"} {
				if m[by] == key {
					return el
				}
			}
		}
	}
	ts.Fatalf("nothing is called %q", key)
	return nil
}

// session [TEXT]: sets ID and JOURNAL to the one session that is kept, with TEXT in its id.
func session(ts *testscript.TestScript, _ bool, args []string) {
	found, _ := filepath.Glob(filepath.Join(ts.Getenv("XDG_STATE_HOME"), "wetside", "sessions", "*"+strings.Join(args, "")+"*.jsonl"))
	if len(found) != 1 {
		ts.Fatalf("%d sessions are kept; want 1", len(found))
	}
	ts.Setenv("JOURNAL", found[0])
	ts.Setenv("ID", strings.TrimSuffix(filepath.Base(found[0]), ".jsonl"))
}

// damage FILE LINE: changes one digit in the middle of a line.
func damage(ts *testscript.TestScript, _ bool, args []string) {
	n, _ := strconv.Atoi(args[1])
	lines := strings.SplitAfter(ts.ReadFile(args[0]), "\n")
	line := []byte(lines[n-1])
	at := regexp.MustCompile(`"elapsed_s":\d`).FindIndex(line)[1] - 1
	line[at] = '0' + (line[at]-'0'+1)%10
	lines[n-1] = string(line)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Join(lines, "")), 0o600))
}

// wave FILE...: each is a WAV file as the contract promises, and heard within a
// second (a session in real time begins late where the machine stalls).
func wave(ts *testscript.TestScript, _ bool, args []string) {
	for _, name := range args {
		found, frames, err := onsetsIn(ts.MkAbs(name))
		if err != nil || len(found) == 0 || found[0] > rate {
			ts.Fatalf("%s: onsets at %v in %d frames: %v", name, found, frames, err)
		}
	}
}
