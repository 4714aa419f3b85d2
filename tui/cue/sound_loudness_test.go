package cue

// How loud each kind is, heard by sox: the momentary loudness of EBU R 128 (EBU Tech
// 3341: 400 ms) by the filters of ITU-R BS.1770, whose coefficients at 48 kHz are
// those of its tables 1 and 2 (from memory). Of all windows the loudest counts.

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"

	"example.org/wetside/sequence"
)

// asLoud is how loud each kind should be, in LUFS, both loudspeakers together. Our own
// rule: what is to be done this moment, or is wrong, is loudest; what is heard most
// often is softer; the tick only says that all is well.
var asLoud = map[sequence.CueKind]float64{
	"overdue": -8, "wet-limit": -8, "move": -8, "take-out": -8,
	"load": -10, "ready": -10, "drain": -10, "lights-out": -10, "wet-warning": -10, "done": -10,
	"agitate": -11, "reverse": -11, "rest": -11, "lights-offer": -11,
	"turn": -13, "reading": -14, "tick": -24,
	"menu-hold": -11, "menu-undo": -11, "menu-stop": -11, "menu-go-on": -11, "menu-late": -11, "menu-set-aside": -11, "menu-sheet-12": -11, "chosen": -11, "refused": -11,
}

func TestSoxHearsTheLoudness(t *testing.T) {
	dir := t.TempDir()
	if err := WriteFiles(dir); err != nil {
		t.Fatal(err)
	}
	for _, kind := range Kinds() {
		want, stated := asLoud[kind]
		if !stated {
			t.Errorf("%s: no statement of how loud it should be", kind)
			continue
		}
		got := momentary(t, filepath.Join(dir, string(kind)+".wav"))
		t.Logf("%-12s %6.1f LUFS", kind, got)
		if math.Abs(got-want) > 0.6 {
			t.Errorf("%s: %.1f LUFS, want %v within 0.6", kind, got, want)
		}
	}
}

// The measure itself: a sine of 997 Hz at full height on one of two channels is at
// -3.01 LUFS by definition (ITU-R BS.1770, annex 1).
func TestTheLoudnessOfASineIsThatOfTheStandard(t *testing.T) {
	file := filepath.Join(t.TempDir(), "sine.wav")
	sox(t, "-D", "-r", "44100", "-c", "1", "-n", "-c", "2", "-b", "24", file, "synth", "2", "sine", "997", "gain", "-n", "remix", "1", "0")
	if got := momentary(t, file); math.Abs(got+3.01) > 0.05 {
		t.Errorf("%.2f LUFS, want -3.01", got)
	}
}

// momentary is the greatest momentary loudness of a stereo file, in LUFS.
func momentary(t *testing.T, file string) float64 {
	t.Helper()
	raw := filepath.Join(t.TempDir(), "weighted.raw")
	sox(t, "-D", file, "-t", "raw", "-e", "floating-point", "-b", "32", raw, "pad", "0.4", "0.4", "gain", "-6", "rate", "-v", "48000",
		"biquad", "1.53512485958697", "-2.69169618940638", "1.19839281085285", "1", "-1.69065929318241", "0.73248077421585",
		"biquad", "1", "-2", "1", "1", "-1.99004745483398", "0.99007225036621")
	b, err := os.ReadFile(raw)
	if err != nil {
		t.Fatal(err)
	}
	const window, step = 48000 * 4 / 10, 48000 / 100
	power := make([]float64, len(b)/8+1) // running sum over both channels
	for i := range len(b) / 8 {
		l, r := float(b[8*i:]), float(b[8*i+4:])
		power[i+1] = power[i] + l*l + r*r
	}
	most := 0.0
	for i := 0; i+window < len(power); i += step {
		most = max(most, (power[i+window]-power[i])/window)
	}
	return -0.691 + 10*math.Log10(most) + 6
}

func float(b []byte) float64 { return float64(math.Float32frombits(binary.LittleEndian.Uint32(b))) }
