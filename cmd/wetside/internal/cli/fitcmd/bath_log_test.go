package fitcmd

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// The times of a bath's log are hours and minutes where its heading says so, minutes and
// seconds where they can be; where neither is plain it is asked, never guessed.
func TestTimesOfALog(t *testing.T) {
	read := func(text string) ([]time.Duration, error) {
		list, err := parseBathReadings("log.csv", strings.NewReader(text), sequence.Units{})
		var at []time.Duration
		for _, p := range list {
			at = append(at, p.At)
		}
		return at, err
	}
	for name, tc := range map[string]struct {
		text string
		last time.Duration
	}{
		"said: hours":       {"h:mm,temperature\n19:05,24\n19:10,23.5\n19:20,23\n", 19*time.Hour + 20*time.Minute},
		"past midnight":     {"clock,developer\n23:50,24\n23:58,23.5\n0:06,23\n", 24*time.Hour + 6*time.Minute},
		"said: minutes":     {"m:ss,temperature\n0:10,24\n0:20,23.5\n0:30,23\n", 30 * time.Second},
		"plain: minutes":    {"time,temperature\n0:00,24\n5:00,23.5\n10:00,23\n", 10 * time.Minute},
		"hours and seconds": {"0:00:00,24\n0:05:00,23.5\n1:10:00,23\n", 70 * time.Minute},
	} {
		at, err := read(tc.text)
		if err != nil || len(at) != 3 || at[2] != tc.last {
			t.Errorf("%s: %v, %v; expected the last at %v", name, at, err, tc.last)
		}
	}
	_, err := read("time,temperature\n19:05,24\n19:10,23.5\n19:15,23\n")
	if err == nil || !strings.Contains(err.Error(), "log.csv: are its times hours and minutes, or minutes and seconds?") {
		t.Errorf("%v; expected a question", err)
	}
}
