package sink

// Samples as bytes: 16-bit little-endian, left and right in turn.

import (
	"bytes"
	"encoding/binary"
	"math"
)

// encode appends frames to b.
func encode(b []byte, frames [][2]float64) []byte {
	for _, f := range frames {
		b = binary.LittleEndian.AppendUint16(b, uint16(sample(f[0])))
		b = binary.LittleEndian.AppendUint16(b, uint16(sample(f[1])))
	}
	return b
}

// sample is one value between -1 and 1 in 16 bits; what lies outside is clipped.
func sample(x float64) int16 {
	return int16(math.Round(min(max(x, -1), 1) * math.MaxInt16))
}

var zeros [64]byte

// zero says whether all bytes are 0.
func zero(b []byte) bool {
	for len(b) >= len(zeros) {
		if !bytes.Equal(b[:len(zeros)], zeros[:]) {
			return false
		}
		b = b[len(zeros):]
	}
	return bytes.Equal(b, zeros[:len(b)])
}
