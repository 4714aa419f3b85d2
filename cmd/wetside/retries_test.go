package main

// Retries are counted and kept: a fault that comes one time in three passes nearly every single
// run, three attempts allowed, and shows only over many. Each recorded session adds a line to
// the file that WETSIDE_RETRIES names (else one in the cache folder) and fails where too many of
// its last ones needed a second attempt.

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// The bounds. A machine that stalls one session in fifty passes; a fault in one of three is found
// (TestRetriesFindAFault).
const (
	judgedRuns     = 12 // the last ones of a test
	retriedTooMany = 4  // of them
	retriedAtOnce  = 5  // attempts beyond the first, of all tests of one run
)

// retryRecord is one run of one recorded session.
type retryRecord struct {
	Test     string    `json:"test"`
	At       time.Time `json:"at"`
	Attempts int       `json:"attempts"`
	Fault    string    `json:"fault,omitzero"` // of the first attempt
}

// retriesNow counts this run's.
var retriesNow atomic.Int64

// retriesFile is where they are kept; "" for nowhere.
func retriesFile() string {
	if name := os.Getenv("WETSIDE_RETRIES"); name != "" {
		return name
	}
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "wetside-tests", "retries.jsonl")
}

// countRetries keeps how many attempts a session took, and judges its last runs.
func countRetries(t *testing.T, attempts int, fault string) {
	t.Helper()
	if attempts > 1 {
		t.Logf("%d attempts; the first: %s", attempts, fault)
		if all := retriesNow.Add(int64(attempts - 1)); all > retriedAtOnce {
			t.Errorf("%d retries in this run; expected at most %d", all, retriedAtOnce)
		}
	}
	name := retriesFile()
	if name == "" {
		return
	}
	history, err := keepRetry(name, retryRecord{t.Name(), time.Now().UTC(), attempts, fault})
	if err != nil {
		t.Logf("retries are not kept: %v", err)
		return
	}
	if n, bad := tooManyRetries(history); bad {
		t.Errorf("%d of the last %d runs needed another attempt, as %s tells; a stall is rarer", n, min(judgedRuns, len(history)), name)
	}
}

// keepRetry adds a line and gives the attempts of all runs of that test.
func keepRetry(name string, r retryRecord) (history []int, err error) {
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return nil, err
	}
	line, err := json.Marshal(r)
	if err != nil {
		return nil, err
	}
	f, err := os.OpenFile(name, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, err
	}
	if _, err = f.Write(append(line, '\n')); err == nil {
		err = f.Close()
	}
	if err != nil {
		return nil, err
	}
	text, err := os.ReadFile(name)
	for line := range strings.Lines(string(text)) {
		var old retryRecord
		if json.Unmarshal([]byte(line), &old) == nil && old.Test == r.Test {
			history = append(history, old.Attempts)
		}
	}
	return history, err
}

// tooManyRetries judges the last runs.
func tooManyRetries(history []int) (retried int, bad bool) {
	for _, attempts := range history[max(0, len(history)-judgedRuns):] {
		if attempts > 1 {
			retried++
		}
	}
	return retried, retried >= retriedTooMany
}

// A fault of one session in three, which three attempts hide 26 times of 27, is found within 60
// runs; a machine that stalls one session in fifty is let pass.
func TestRetriesFindAFault(t *testing.T) {
	found := func(chance float64) (share float64) {
		random := rand.New(rand.NewPCG(3, 1))
		const draws = 1000
		for range draws {
			var history []int
			for range 60 {
				attempts := 1
				for attempts < 3 && random.Float64() < chance {
					attempts++
				}
				history = append(history, attempts)
				if _, bad := tooManyRetries(history); bad {
					share += 1. / draws
					break
				}
			}
		}
		return share
	}
	if f := found(1. / 3); f < 0.99 {
		t.Errorf("a fault of one in three is found in %.3f of the histories", f)
	}
	if f := found(1. / 50); f > 0.01 {
		t.Errorf("a stall of one in fifty is taken for a fault in %.3f", f)
	}
}

// What is kept is read back, by test; three retries pass, the fourth fails.
func TestRetriesAreKept(t *testing.T) {
	name := filepath.Join(t.TempDir(), "new", "retries")
	for i, attempts := range []int{2, 1, 3, 2, 1, 2} {
		if _, err := keepRetry(name, retryRecord{Test: "another", Attempts: 3}); err != nil {
			t.Fatal(err)
		}
		history, err := keepRetry(name, retryRecord{Test: "this", Attempts: attempts, Fault: "nothing was heard"})
		if err != nil || len(history) != i+1 || history[i] != attempts {
			t.Fatalf("%v, %v", history, err)
		}
		if _, bad := tooManyRetries(history); bad != (i == 5) {
			t.Errorf("after %v: too many %v", history, bad)
		}
	}
}
