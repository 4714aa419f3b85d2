//go:build unix

package pulsetest

// Recording what a sink plays, and finding in it where sounds begin.

import (
	"bytes"
	"encoding/binary"
	"math"
	"syscall"
)

// Rate is the sample rate of recordings, in frames a second.
const Rate = 44100

// onsetQuiet is how many frames of quiet come before an onset: 50 ms.
const onsetQuiet = Rate / 20

// Record takes what a sink plays until the function returned is called, which
// gives the left side, from -1 to 1.
func (s *Server) Record(sink string) func() []float64 {
	s.t.Helper()
	var out bytes.Buffer
	rec := s.Command("parec", "-d", sink+".monitor", "--rate=44100", "--channels=2", "--format=s16le", "--raw",
		"--latency-msec=500") // what is still on its way at the end is lost
	rec.Stdout = &out
	if err := Ahead(rec.Start); err != nil {
		s.t.Fatal(err)
	}
	return func() []float64 {
		rec.Process.Signal(syscall.SIGINT)
		rec.Wait()
		samples := make([]float64, out.Len()/4)
		for i := range samples {
			samples[i] = float64(int16(binary.LittleEndian.Uint16(out.Bytes()[4*i:]))) / 32767
		}
		return samples
	}
}

// Onsets are the frames at which something is heard after 50 ms of quiet.
func Onsets(samples []float64) []int {
	var found []int
	silent := onsetQuiet
	for i, x := range samples {
		if math.Abs(x) <= 0.01 {
			silent++
			continue
		}
		if silent >= onsetQuiet {
			found = append(found, i)
		}
		silent = 0
	}
	return found
}
