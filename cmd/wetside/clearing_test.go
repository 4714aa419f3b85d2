package main

// The clearing test in virtual time: a hand that presses enter.

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

func TestStopwatch(t *testing.T) {
	hometest.New(t)
	const s = time.Second
	got := runVirtually(t, types(map[time.Duration]string{5 * s: "", 95 * s: ""}), "bottles", "clearing", "--sound", "off")
	if got.status != app.ExitOK || !strings.Contains(got.out.String(), "clear after 1:30\nfix for 3:00 in one bath") || !strings.Contains(got.err.String(), "\n1:00\n") {
		t.Errorf("status %d, stdout %q, stderr %q", got.status, &got.out, &got.err)
	}
	got = runVirtually(t, types(map[time.Duration]string{0: "", 80 * s: ""}), "bottles", "clearing", "--baths", "2", "--tabular", "--temp", "50F", "--json", "--sound", "off")
	// TM 11-2323 para 33c: twice at 50 F; three clearing times in all for a tabular emulsion, half of that in each of two
	if want := `"clearing_s":80,"baths":2,"each_s":240,"cold_factor":2,`; got.status != app.ExitOK || !strings.Contains(got.out.String(), want) {
		t.Errorf("status %d, stdout %q; want %s", got.status, &got.out, want)
	}
}

func TestStopwatchGivesUp(t *testing.T) {
	hometest.New(t)
	got := runVirtually(t, func(typed io.Writer) {
		fmt.Fprintln(typed)
		time.Sleep(10 * time.Minute)
	}, "bottles", "clearing", "--sound", "off")
	if got.status != app.ExitFailed || !strings.Contains(got.err.String(), "\n9:00\n") || !strings.Contains(got.err.String(), "wetside: not clear after 10:00") {
		t.Errorf("status %d, stderr %q", got.status, &got.err)
	}
	for name, hand := range map[string]map[time.Duration]string{"nothing typed": {}, "only begun": {0: ""}} {
		got := runVirtually(t, types(hand), "bottles", "clearing", "--sound", "off")
		if got.status != app.ExitUsage || !strings.Contains(got.err.String(), "--cleared-in D") {
			t.Errorf("%s: status %d, stderr %q", name, got.status, &got.err)
		}
	}
}

// What is heard: a tick each quarter of a minute; at the minute two, or a voice.
func TestStopwatchIsHeard(t *testing.T) {
	hometest.New(t)
	for voice, wants := range map[string][]float64{"off": {15, 30, 45, 60, 60.4}, "full": {0, 15, 30, 45, 60}} {
		file := filepath.Join(t.TempDir(), "ticks.wav")
		got := runVirtually(t, types(map[time.Duration]string{0: "", 63 * time.Second: ""}), "bottles", "clearing", "--sound", "wav:"+file, "--voice", voice)
		if got.status != app.ExitOK {
			t.Fatalf("voice %s: status %d, stderr %q", voice, got.status, &got.err)
		}
		soundsAt(t, file, voice, wants)
	}
	// The screens' is the same, and lets go of the loudspeaker.
	synctest.Test(t, func(t *testing.T) {
		file := filepath.Join(t.TempDir(), "ticks.wav")
		by := running.SoundOptions{Sink: "wav:" + file, Voice: cue.Full}
		h := backend.NewLoudspeaker(&app.Env{Clock: clock.NewSimulated(nil)}, by)
		h.SoundStopwatch(true)
		time.Sleep(63 * time.Second)
		h.SoundStopwatch(false)
		h.CloseIdleSound()
		soundsAt(t, file, "on the screens", []float64{0, 15, 30, 45, 60})
	})
	if got := runVirtually(t, types(map[time.Duration]string{0: ""}), "bottles", "clearing", "--sound", "off", "--voice", "loud"); got.status != app.ExitUsage {
		t.Errorf("a loud voice: status %d", got.status)
	}
}

// soundsAt looks for sounds at seconds, and finds no other unless words are said.
func soundsAt(t *testing.T, file, voice string, wants []float64) {
	t.Helper()
	const block = 0.5 // s: what is said at once begins within the file's present block
	found, _, err := onsetsIn(file)
	if err != nil || voice == "off" && len(found) != len(wants) {
		t.Fatalf("voice %s: onsets at %v, %v", voice, found, err)
	}
	for _, want := range wants {
		near := func(f int64) bool { return math.Abs(float64(f)/rate-want) <= block }
		if !slices.ContainsFunc(found, near) {
			t.Errorf("voice %s: no sound at %v s among %v", voice, want, found)
		}
	}
}
