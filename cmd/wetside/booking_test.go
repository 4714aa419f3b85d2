package main

// Booking in virtual time: a session that is cut off and taken up books its bottles
// once, at its true end; until then nothing is booked.

import (
	"bytes"
	"io"
	"os"
	"strings"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/clock"
)

func TestASessionTakenUpBooksOnce(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	synctest.Test(t, func(t *testing.T) {
		source := clock.NewSimulated(nil)
		run := func(cut time.Duration, args ...string) (string, string, int) {
			var out, errs bytes.Buffer
			in, typed := io.Pipe()
			defer typed.Close()
			p := &app.Env{In: in, Out: &out, Err: &errs, Clock: source, Signals: func() <-chan os.Signal {
				c := make(chan os.Signal, 1)
				if cut > 0 {
					go func() {
						time.Sleep(cut)
						c <- syscall.SIGTERM
					}()
				}
				return c
			}}
			status := cli.Run(p, args)
			return out.String(), errs.String(), status
		}
		booked := func() string {
			out, _, _ := run(0, "bottles", "--json")
			return out
		}
		if _, errs, status := run(0, "bottles", "open", "curlew-tank"); status != app.ExitOK {
			t.Fatal(errs)
		}
		if _, errs, status := run(3*time.Minute, "run", "curlew-tank", "--plain", "--sound", "off"); status != app.ExitFailed || !strings.Contains(errs, "resume") {
			t.Fatalf("cut off: status %d, %s", status, errs)
		}
		if got := booked(); strings.Contains(got, `"sheets":4`) {
			t.Errorf("booked before it was over: %s", got)
		}
		if _, errs, status := run(0, "resume", "--plain", "--sound", "off"); status != app.ExitOK {
			t.Fatalf("taken up: status %d, %s", status, errs)
		}
		once := booked()
		if n := strings.Count(once, `"square_inches":80,"sheets":4,`); n != 4 || n != strings.Count(once, `"bath":`) {
			t.Errorf("each bottle took four sheets: %s", once)
		}
		if again := booked(); strings.Count(again, `"sheets":4,`) != strings.Count(once, `"sheets":4,`) {
			t.Errorf("booked again: %s", again)
		}
	})
}
