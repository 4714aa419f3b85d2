package sink

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// ramp is a source whose frame n tells its own number and checks the times it
// is given.
type ramp struct {
	t     *testing.T
	start time.Time
	next  int64
}

func (r *ramp) Pull(frames [][2]float64, heard time.Time) {
	if want := r.start.Add(time.Duration(r.next * 1e9 / 44100)); heard != want {
		r.t.Errorf("frame %d is said to be heard at %v, want %v", r.next, heard.Sub(r.start), want.Sub(r.start))
	}
	for i := range frames {
		x := float64(r.next%1000+1) / 32767
		frames[i] = [2]float64{x, -x}
		r.next++
	}
}

// frameOf is one frame of a WAV file's bytes.
func frameOf(b []byte, n int) (left, right int16) {
	return int16(binary.LittleEndian.Uint16(b[44+4*n:])), int16(binary.LittleEndian.Uint16(b[46+4*n:]))
}

func TestWAVHoldsEveryFrameInRealSeconds(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.wav")
	synctest.Test(t, func(t *testing.T) {
		r := &ramp{t: t, start: time.Now()}
		s, err := Open("wav:"+path, r)
		if err != nil {
			t.Fatal(err)
		}
		if want := "sound: wav, " + path; s.State() != want || !s.Sounding() {
			t.Errorf("state %q, want %q", s.State(), want)
		}
		time.Sleep(10*time.Second + 123*time.Millisecond)
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	frames := 10123 * 441 / 10 // 10.123 s at 44.1 kHz
	if len(b) != 44+4*frames {
		t.Fatalf("%d bytes, want %d", len(b), 44+4*frames)
	}
	for n := range frames {
		want := int16(n%1000 + 1)
		if left, right := frameOf(b, n); left != want || right != -want {
			t.Fatalf("frame %d is %d, %d; want %d and its negative", n, left, right, want)
		}
	}
}

// The header's fields by byte, after the published layout of RIFF/WAVE.
func checkHeader(t *testing.T, b []byte, data int) {
	t.Helper()
	u16 := func(at int) int { return int(binary.LittleEndian.Uint16(b[at:])) }
	u32 := func(at int) int { return int(binary.LittleEndian.Uint32(b[at:])) }
	if string(b[0:4]) != "RIFF" || string(b[8:16]) != "WAVEfmt " || string(b[36:40]) != "data" {
		t.Errorf("marks %q", b[:44])
	}
	if u32(4) != data+36 || u32(16) != 16 || u16(20) != 1 || u16(22) != 2 || u32(24) != 44100 ||
		u32(28) != 176400 || u16(32) != 4 || u16(34) != 16 || u32(40) != data {
		t.Errorf("header % x for %d bytes of data", b[:44], data)
	}
}

func TestWAVCanBeReadAfterAKill(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.wav")
	synctest.Test(t, func(t *testing.T) {
		s, err := Open("wav:"+path, &ramp{t: t, start: time.Now()})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		time.Sleep(7*time.Second + 777*time.Millisecond)
		synctest.Wait()
		b, err := os.ReadFile(path) // as a kill would leave it
		if err != nil {
			t.Fatal(err)
		}
		told := int(binary.LittleEndian.Uint32(b[40:]))
		checkHeader(t, b, told)
		if told < 6*176400 || told > len(b)-44 {
			t.Errorf("the header tells of %d bytes of %d after 7.8 s", told, len(b)-44)
		}
		if left, _ := frameOf(b, told/4-1); int(left) != (told/4-1)%1000+1 {
			t.Errorf("the last frame told of is %d", left)
		}
	})
}

// silence is a source of nothing that notes how much was pulled.
type silence struct {
	frames int
}

func (s *silence) Pull(frames [][2]float64, _ time.Time) {
	clear(frames)
	s.frames += len(frames)
}

// brokenFile fails from the n-th call of one operation on.
type brokenFile struct {
	writes, truncates int // that still work
}

var errDisk = errors.New("no space left on device")

func (f *brokenFile) WriteAt(p []byte, _ int64) (int, error) {
	if f.writes--; f.writes < 0 {
		return len(p) / 2, errDisk
	}
	return len(p), nil
}

func (f *brokenFile) Truncate(int64) error {
	if f.truncates--; f.truncates < 0 {
		return errDisk
	}
	return nil
}

func (f *brokenFile) Close() error { return nil }

func TestAFullDiskIsToldAndTheSessionGoesOn(t *testing.T) {
	for name, f := range map[string]*brokenFile{"write": {writes: 40, truncates: 1000}, "truncate": {writes: 1000, truncates: 2}} {
		synctest.Test(t, func(t *testing.T) {
			r := &ramp{t: t, start: time.Now()}
			s, err := newWAV(f, "out.wav", r)
			if err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Minute)
			if want := "NO SOUND: no space left on device"; s.State() != want || s.Sounding() {
				t.Errorf("%s: state %q, want %q", name, s.State(), want)
			}
			if err := s.Close(); err == nil || !strings.Contains(err.Error(), "no space left") {
				t.Errorf("%s: closing gave %v, want the reason", name, err)
			}
			if f.writes < -1 || f.truncates < -1 {
				t.Errorf("%s: the file was written to after its fault", name)
			}
			if r.next != 60*44100 {
				t.Errorf("%s: %d frames pulled in a minute", name, r.next)
			}
		})
	}
	if _, err := newWAV(&brokenFile{}, "out.wav", &silence{}); err == nil {
		t.Error("a file that takes no header was opened")
	}
}

// Sizes in a WAV file have 32 bits: 4 GiB less the header are 1,073,741,812 frames.
func TestWAVEndsAtItsGreatestSize(t *testing.T) {
	const last = 1_073_741_812
	w := &wavSink{status: status{name: "wav"}, file: &brokenFile{writes: 9, truncates: 9}, frames: last - 4410}
	frames := make([][2]float64, 4410)
	w.write(frames)
	if !w.Sounding() || w.frames != last {
		t.Errorf("%d frames, %s; want %d", w.frames, w.State(), last)
	}
	w.write(frames[:1])
	if want := "NO SOUND: " + wavFull; w.State() != want || w.frames != last {
		t.Errorf("%d frames, state %q, want %q", w.frames, w.State(), want)
	}
}

func TestOffPullsInRealTimeAndSaysSo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		source := &silence{}
		s, err := Open("off", source)
		if err != nil {
			t.Fatal(err)
		}
		time.Sleep(90 * time.Second)
		s.Close()
		behind := 90*44100 - int64(source.frames) // at its end it makes up for nothing
		if behind < framesIn(pullLag) || behind > framesIn(pullLag+idleEvery) {
			t.Errorf("%d frames in 90 s", source.frames)
		}
		if s.Sounding() || s.State() != "NO SOUND: switched off" {
			t.Errorf("state %q", s.State())
		}
	})
}

// After a stop of the whole program every frame still comes, at its time.
func TestPaceCatchesUpAfterAStall(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r := &ramp{t: t, start: time.Now()}
		stalled := false
		p := startPuller(time.Now(), r, pullEvery, func([][2]float64) {
			if !stalled && r.next > 44100 {
				stalled = true
				time.Sleep(20 * time.Second)
			}
		})
		time.Sleep(30 * time.Second)
		p.Close()
		if r.next != 30*44100 {
			t.Errorf("%d frames in 30 s with a stall of 20", r.next)
		}
	})
}

func TestWordsThatNameNoSinkAreRefused(t *testing.T) {
	for _, spec := range []string{"", "loud", "wav", "wav:", "off:x", "pulse:x", "WAV:x", "auto:1", "exec:aplay"} {
		if s, err := Open(spec, &silence{}); err == nil {
			s.Close()
			t.Errorf("%q was opened", spec)
		}
	}
	missing := filepath.Join(t.TempDir(), "no", "such", "out.wav")
	if _, err := Open("wav:"+missing, &silence{}); err == nil || !strings.Contains(err.Error(), missing) {
		t.Errorf("a file in a missing folder gave %v", err)
	}
}

func TestSamplesAreRoundedAndClipped(t *testing.T) {
	for x, want := range map[float64]int16{0: 0, 1: 32767, -1: -32767, 1.5: 32767, -2: -32767,
		0.5 / 32767: 1, 0.4 / 32767: 0, -0.6 / 32767: -1} {
		if got := sample(x); got != want {
			t.Errorf("%v becomes %d, want %d", x, got, want)
		}
	}
}

func TestOneChannelIsTheMiddleOfTwo(t *testing.T) {
	got := encodeMono([]byte{9}, [][2]float64{{1, 0}, {-1, 1}, {0, 0}})
	if want := []byte{9, 0x00, 0x40, 0, 0, 0, 0}; !bytes.Equal(got, want) { // 16383.5 rounds away from 0
		t.Errorf("% x, want % x", got, want)
	}
	if got := encodeMono(nil, make([][2]float64, 3)); !bytes.Equal(got, make([]byte, 6)) {
		t.Errorf("silence: % x", got)
	}
}

func TestFramesAndTimesAreEachOthersInverse(t *testing.T) {
	for _, n := range []int64{0, 1, 2, 44099, 44100, 44101, 158_760_000, 1 << 40} {
		if got := framesIn(timeOf(n) + 1); got != n {
			t.Errorf("frame %d lasts until frame %d", n, got)
		}
	}
}
