package main

// Recorded sessions on a busy machine: what is wrong once was a stall, of hands, server or
// recorder; what is wrong at the same place each time is wrong.

import (
	"fmt"
	"runtime"
	"testing"

	"example.org/wetside/tui/cue/sink/pulsetest"
)

// retry is one of three at a recorded session. Its faults count if they last; those that
// are told to T itself, as light in the dark, count at once.
type retry struct {
	*testing.T
	faults map[string]string // by what they are of
	gaveUp string
}

// Errorf takes a fault, of what the first argument names or counts, or else of its kind.
func (a *retry) Errorf(format string, args ...any) {
	a.Helper()
	text := fmt.Sprintf(format, args...)
	a.Log(text)
	if len(args) > 0 {
		switch what := args[0].(type) {
		case string, int:
			format += fmt.Sprint(what)
		}
	}
	a.faults[format] = text
}

// firstFault is one of its faults; "" where there was none.
func (a *retry) firstFault() string {
	for _, text := range a.faults {
		return text
	}
	return a.gaveUp
}

// Fatalf ends the attempt.
func (a *retry) Fatalf(format string, args ...any) {
	a.Helper()
	a.gaveUp = fmt.Sprintf(format, args...)
	a.Log(a.gaveUp)
	runtime.Goexit()
}

// soundServer is a sound server of a test's own. The test goes on beside others, or is
// skipped where no server may be started.
func soundServer(t *testing.T) *pulsetest.Server {
	t.Helper()
	server := pulsetest.PulseAudio(t)
	t.Parallel()
	return server.Start()
}

// withRetries tries until nothing has been wrong in all attempts alike, three times at most, and
// counts them.
func withRetries(t *testing.T, try func(*retry)) {
	t.Helper()
	var lasting map[string]string // nil while there was no whole attempt
	gaveUp, first, attempts := "", "", 0
	defer func() { countRetries(t, attempts, first) }()
	for range 3 {
		attempts++
		a := &retry{T: t, faults: map[string]string{}}
		done := make(chan struct{})
		go func() {
			defer close(done)
			try(a)
		}()
		<-done
		if attempts == 1 {
			first = a.firstFault()
		}
		switch {
		case t.Failed():
			return
		case a.gaveUp != "":
			gaveUp = a.gaveUp
			continue
		case lasting == nil:
			lasting = a.faults
		}
		for what := range lasting {
			if _, again := a.faults[what]; !again {
				delete(lasting, what)
			}
		}
		if len(lasting) == 0 {
			return
		}
	}
	for _, text := range lasting {
		t.Errorf("each time: %s", text)
	}
	if lasting == nil {
		t.Error(gaveUp)
	}
}
