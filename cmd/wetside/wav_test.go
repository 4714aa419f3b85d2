package main

// An ear for the tests: onsets in a WAV file, found in its samples alone.

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"testing"
)

const (
	rate      = 44100
	wavHeader = 44   // bytes before the samples
	threshold = 0.01 // a sample that is heard
	quiet     = rate / 20
	near      = 44 // frames: a millisecond
)

// onsets lists the frames at which something is heard after 50 ms of quiet, and
// how many frames the file has.
func onsets(t *testing.T, path string) (found []int64, frames int64) {
	t.Helper()
	found, frames, err := onsetsIn(path)
	if err != nil {
		t.Fatal(err)
	}
	return found, frames
}

func onsetsIn(path string) (found []int64, frames int64, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, 0, err
	}
	defer f.Close()
	header := make([]byte, wavHeader)
	if _, err := io.ReadFull(f, header); err != nil {
		return nil, 0, err
	}
	if err := checkHeader(header); err != nil {
		return nil, 0, err
	}
	chunk, nothing := make([]byte, 1<<20), make([]byte, 1<<20)
	silent := int64(quiet)
	for {
		n, err := io.ReadFull(f, chunk)
		if bytes.Equal(chunk[:n], nothing[:n]) {
			silent, frames = silent+int64(n/4), frames+int64(n/4)
			n = 0
		}
		for i := 0; i+4 <= n; i += 4 {
			left := float64(int16(binary.LittleEndian.Uint16(chunk[i:]))) / math.MaxInt16
			if math.Abs(left) <= threshold {
				silent++
			} else {
				if silent >= quiet {
					found = append(found, frames)
				}
				silent = 0
			}
			frames++
		}
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return found, frames, nil
		}
		if err != nil {
			return nil, 0, err
		}
	}
}

// checkHeader wants what the contract promises: 44.1 kHz, 16 bits, stereo.
func checkHeader(h []byte) error {
	channels, perSecond, bits := binary.LittleEndian.Uint16(h[22:]), binary.LittleEndian.Uint32(h[24:]), binary.LittleEndian.Uint16(h[34:])
	if string(h[:4]) != "RIFF" || string(h[8:16]) != "WAVEfmt " || channels != 2 || perSecond != rate || bits != 16 {
		return fmt.Errorf("%d channels, %d frames a second, %d bits; want stereo, 44100, 16", channels, perSecond, bits)
	}
	return nil
}
