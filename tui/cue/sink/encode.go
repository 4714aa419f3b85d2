package sink

// Samples as bytes: 16-bit little-endian, left and right in turn, or one for both.

import (
	"encoding/binary"
	"math"
	"slices"
)

const monoBytes = 2 // of a frame with one channel

// encode appends frames to b. Most of a session is silence: that costs least.
func encode(b []byte, frames [][2]float64) []byte {
	if silent(frames) {
		return append(b, make([]byte, len(frames)*frameBytes)...)
	}
	for _, f := range frames {
		b = binary.LittleEndian.AppendUint16(b, uint16(sample(f[0])))
		b = binary.LittleEndian.AppendUint16(b, uint16(sample(f[1])))
	}
	return b
}

// encodeMono appends frames to b as one channel, their middle.
func encodeMono(b []byte, frames [][2]float64) []byte {
	if silent(frames) {
		return append(b, make([]byte, len(frames)*monoBytes)...)
	}
	for _, f := range frames {
		b = binary.LittleEndian.AppendUint16(b, uint16(sample((f[0]+f[1])/2)))
	}
	return b
}

// sample is one value between -1 and 1 in 16 bits; what lies outside is clipped.
func sample(x float64) int16 {
	return int16(math.Round(min(max(x, -1), 1) * math.MaxInt16))
}

// silent says whether nothing is heard in all of frames.
func silent(frames [][2]float64) bool {
	return !slices.ContainsFunc(frames, func(f [2]float64) bool { return f != [2]float64{} })
}
