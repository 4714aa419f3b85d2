package cue

// An hour's session through the ear and a WAV file, in virtual time; and sox as
// an ear that is not ours.

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue/sink"
)

var session = time.Hour

// hourPlan is cues at odd instants, four to nine seconds apart.
func hourPlan() []sequence.Cue {
	random := rand.New(rand.NewPCG(3, 4))
	var plan []sequence.Cue
	for at := 5 * second; at < session-5*second; at += 4*second + time.Duration(random.Int64N(int64(5*second))) {
		kind := sequence.CueKinds[len(plan)%len(sequence.CueKinds)]
		plan = append(plan, sequence.Cue{At: at, Kind: kind, Step: "fix", Sheet: len(plan)})
	}
	return plan
}

// ahead is what the engine gives: the cues of the next three seconds.
func ahead(plan []sequence.Cue, now time.Duration) []sequence.Cue {
	var next []sequence.Cue
	for _, c := range plan {
		if c.At > now && c.At <= now+3*second {
			next = append(next, c)
		}
	}
	return next
}

func TestAnHourInAFileIsOnTime(t *testing.T) {
	if testing.Short() {
		t.Skip("an hour of frames")
	}
	path := filepath.Join(t.TempDir(), "hour.wav")
	plan := hourPlan()
	synctest.Test(t, func(t *testing.T) {
		c := clock.Virtual(0, 1)
		ear := NewEar(c)
		out, err := sink.Open("wav:"+path, ear)
		if err != nil {
			t.Fatal(err)
		}
		for now := time.Duration(0); now < session; now = c.Mark().Elapsed {
			ear.Schedule(ahead(plan, now))
			time.Sleep(333 * time.Millisecond)
		}
		if err := out.Close(); err != nil {
			t.Error(err)
		}
		counts(t, ear, len(plan), 0, 0)
	})
	l := hearFile(t, path)
	if d := l.frame - int64(session/second)*44100; d < 0 || d > 44100 {
		t.Errorf("the file has %d frames more than the session, want up to a second", d)
	}
	worst, notes := int64(0), 0
	for _, c := range plan {
		want := int64(math.Round(c.At.Seconds() * 44100))
		off := nearest(l.onsets, want)
		worst = max(worst, off)
		if off > 44 {
			t.Errorf("%s at %v is %d frames from its place", c.Kind, c.At, off)
		}
		notes += len(heardAs[c.Kind].begins)
	}
	if len(l.onsets) != notes {
		t.Errorf("%d notes in the file, want %d", len(l.onsets), notes)
	}
	t.Logf("%d cues, worst %d frames", len(plan), worst)
}

// hearFile listens to the left side of a WAV file of ours.
func hearFile(t *testing.T, path string) *listener {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in := bufio.NewReaderSize(f, 1<<20)
	header := make([]byte, 44)
	if _, err := io.ReadFull(in, header); err != nil {
		t.Fatal(err)
	}
	l := newListener()
	block, nothing := make([]byte, 1<<14), make([]byte, 1<<14)
	for {
		n, err := io.ReadFull(in, block)
		if n == len(block) && bytes.Equal(block, nothing) {
			l.rest(n / 4)
			continue
		}
		for i := 0; i+4 <= n; i += 4 {
			l.hear(float64(int16(binary.LittleEndian.Uint16(block[i:]))) / 32767)
		}
		if err != nil {
			break
		}
	}
	if told := int64(binary.LittleEndian.Uint32(header[40:])) / 4; told != l.frame {
		t.Errorf("the header tells of %d frames, the file has %d", told, l.frame)
	}
	return l
}

// nearest is how far the nearest of sorted onsets lies.
func nearest(onsets []int64, want int64) int64 {
	best := int64(math.MaxInt64)
	for _, o := range onsets {
		best = min(best, max(o-want, want-o))
	}
	return best
}

// sox runs sox, or skips where it is missing and not required.
func sox(t *testing.T, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath("sox"); err != nil {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal("sox is not installed, and WETSIDE_E2E=1 asks for it")
		}
		t.Skip("sox is not installed: nobody but ourselves has heard the cues")
	}
	out, err := exec.Command("sox", args...).CombinedOutput()
	if err != nil {
		t.Fatalf("sox %v: %v\n%s", args, err, out)
	}
	return string(out)
}

// value is a number of sox's stat or soxi.
func value(t *testing.T, report, label string) float64 {
	t.Helper()
	for line := range strings.Lines(report) {
		if rest, found := strings.CutPrefix(strings.Join(strings.Fields(line), " "), label); found {
			x, err := strconv.ParseFloat(strings.Fields(strings.Trim(rest, " :"))[0], 64)
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
	}
	t.Fatalf("sox says nothing of %q:\n%s", label, report)
	return 0
}

// Sox hears every file begin within a millisecond, and last as long as Length
// says.
func TestSoxHearsTheFiles(t *testing.T) {
	dir := t.TempDir()
	if err := WriteFiles(dir, func(string) error { return nil }); err != nil {
		t.Fatal(err)
	}
	for _, kind := range sequence.CueKinds {
		in, trimmed := filepath.Join(dir, string(kind)+".wav"), filepath.Join(dir, "trimmed.wav")
		length := value(t, sox(t, in, "-n", "stat"), "Length (seconds):")
		if want := Length(kind).Seconds(); math.Abs(length-want) > 1e-4 {
			t.Errorf("%s: %.4f s long, want %.4f", kind, length, want)
		}
		sox(t, in, trimmed, "silence", "1", "1s", "0.01") // cut what is below 1 % at the beginning
		if cut := length - value(t, sox(t, trimmed, "-n", "stat"), "Length (seconds):"); cut > 0.001 {
			t.Errorf("%s: begins %.2f ms late", kind, 1000*cut)
		}
	}
}

// Sox takes the harmonics away and reckons the frequency of what is left of the
// first note from its slope; over 60 ms that is good to 3 Hz.
func TestSoxHearsTheFundamentals(t *testing.T) {
	dir := t.TempDir()
	if err := WriteFiles(dir, func(string) error { return nil }); err != nil {
		t.Fatal(err)
	}
	for kind, said := range heardAs {
		lowpass := "-" + strconv.FormatFloat(1.5*said.pitches[0], 'f', 1, 64)
		report := sox(t, filepath.Join(dir, string(kind)+".wav"), "-n", "remix", "1",
			"sinc", "-n", "4001", "-L", lowpass, "trim", "0.03", "0.06", "stat")
		if hz := value(t, report, "Rough frequency:"); math.Abs(hz-said.pitches[0]) > 3 {
			t.Errorf("%s: sox hears %v Hz, want %v", kind, hz, said.pitches[0])
		}
	}
}
