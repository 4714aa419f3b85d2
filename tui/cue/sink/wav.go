package sink

// The session's sound in a file: 44.1 kHz, 16-bit, stereo, in real seconds from
// the moment of opening. The header (RIFF/WAVE, after the Multimedia Programming
// Interface and Data Specifications 1.0, 1991) is brought up to date every second, so that
// the file can be read after a kill. Silence is not written but skipped, which
// leaves a hole in the file that reads as zeros.

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"time"
)

const (
	wavHeader   = 44
	frameBytes  = 4
	headerEvery = Rate                                               // frames between headers
	wavMaxBytes = (math.MaxUint32 - wavHeader) / frameBytes          // frames; sizes have 32 bits
	wavFull     = "the WAV file has reached its greatest size, 4 GB" // six hours and three quarters
)

// file is what the sink needs of a file.
type file interface {
	WriteAt(p []byte, off int64) (int, error)
	Truncate(size int64) error
	Close() error
}

// wavSink writes what is pulled to a file.
type wavSink struct {
	status
	pace   *puller
	file   file
	path   string
	bytes  [pullFrames * frameBytes]byte
	frames int64 // written or skipped
	headed int64 // frames that the header tells of
}

func openWAV(path string, source Source) (Sink, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return nil, fmt.Errorf("sound: %w", err)
	}
	w, err := newWAV(f, path, source)
	if err != nil {
		f.Close()
		return nil, err
	}
	return w, nil
}

// newWAV starts writing to an empty file.
func newWAV(f file, path string, source Source) (*wavSink, error) {
	w := &wavSink{status: status{name: "wav", detail: path}, file: f, path: path}
	if err := w.writeHeader(); err != nil {
		return nil, fmt.Errorf("sound: %w", err)
	}
	w.pace = startPuller(time.Now(), source, pullEvery, w.write)
	return w, nil
}

// write takes frames from the pace. The first fault is told and ends the writing;
// the pulling goes on.
func (w *wavSink) write(frames [][2]float64) {
	if !w.Sounding() {
		return
	}
	if w.frames+int64(len(frames)) > wavMaxBytes {
		w.failed(wavFull)
		return
	}
	if !silent(frames) {
		if _, err := w.file.WriteAt(encode(w.bytes[:0], frames), wavHeader+w.frames*frameBytes); err != nil {
			w.failed(err.Error())
			return
		}
	}
	w.frames += int64(len(frames))
	if w.frames-w.headed >= headerEvery {
		if err := w.writeHeader(); err != nil {
			w.failed(err.Error())
		}
	}
}

// writeHeader makes the file as long as what has been pulled, then says so.
func (w *wavSink) writeHeader() error {
	data := w.frames * frameBytes
	if err := w.file.Truncate(wavHeader + data); err != nil {
		return err
	}
	h := make([]byte, 0, wavHeader)
	h = append(h, "RIFF"...)
	h = binary.LittleEndian.AppendUint32(h, uint32(wavHeader-8+data))
	h = append(h, "WAVEfmt "...)
	h = binary.LittleEndian.AppendUint32(h, 16)
	h = binary.LittleEndian.AppendUint16(h, 1) // PCM
	h = binary.LittleEndian.AppendUint16(h, 2)
	h = binary.LittleEndian.AppendUint32(h, Rate)
	h = binary.LittleEndian.AppendUint32(h, Rate*frameBytes)
	h = binary.LittleEndian.AppendUint16(h, frameBytes)
	h = binary.LittleEndian.AppendUint16(h, 16)
	h = append(h, "data"...)
	h = binary.LittleEndian.AppendUint32(h, uint32(data))
	w.headed = w.frames
	_, err := w.file.WriteAt(h, 0)
	return err
}

// Close writes what belongs to the time before it and closes the file. Where
// writing has failed before, it errs with the reason.
func (w *wavSink) Close() error {
	w.pace.Close()
	if w.Sounding() {
		if err := w.writeHeader(); err != nil {
			w.failed(err.Error())
		}
	}
	err := w.file.Close()
	if !w.Sounding() {
		return fmt.Errorf("sound: %s: %s", w.path, w.State())
	}
	if err != nil {
		return fmt.Errorf("sound: %w", err)
	}
	return nil
}
