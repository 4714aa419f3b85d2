package cue

// The recordings' encoding: WAV files of one channel, in IMA ADPCM of four bits a
// sample or in mu-law of eight (ITU-T G.711, its table 2a as a formula). ADPCM's step sizes and how an index moves are those of RFC 3551, section
// 4.5.1 (DVI4, which is the IMA algorithm); how a block lies in a WAV file is
// Microsoft's format tag 17: a 16-bit first sample, an index, a zero, and then
// two samples a byte, the low four bits first.

import (
	"encoding/binary"
	"fmt"
)

// indexMoves is by how much the index moves for the low three bits of a code.
var indexMoves = [8]int{-1, -1, -1, -1, 2, 4, 6, 8}

// stepSizes are those that an index stands for.
var stepSizes = [89]int{
	7, 8, 9, 10, 11, 12, 13, 14, 16, 17, 19, 21, 23, 25, 28, 31, 34, 37, 41, 45, 50, 55, 60, 66, 73, 80, 88, 97, 107, 118,
	130, 143, 157, 173, 190, 209, 230, 253, 279, 307, 337, 371, 408, 449, 494, 544, 598, 658, 724, 796, 876, 963, 1060,
	1166, 1282, 1411, 1552, 1707, 1878, 2066, 2272, 2499, 2749, 3024, 3327, 3660, 4026, 4428, 4871, 5358, 5894, 6484, 7132,
	7845, 8630, 9493, 10442, 11487, 12635, 13899, 15289, 16818, 18500, 20350, 22385, 24623, 27086, 29794, 32767,
}

// blockHead is the bytes of a block before its codes.
const blockHead = 4

// decodeADPCM is the samples of ADPCM blocks of a size, at full scale 1, as many as
// are asked for; a block's first sample stands in its head.
func decodeADPCM(data []byte, block, count int) ([]float32, error) {
	samples := make([]float32, 0, count+2*block)
	for ; len(data) > 0 && len(samples) < count; data = data[min(block, len(data)):] {
		b := data[:min(block, len(data))]
		if len(b) < blockHead || int(b[2]) >= len(stepSizes) {
			return nil, fmt.Errorf("block of %d bytes; expected a head with an index under %d", len(b), len(stepSizes))
		}
		value, index := int(int16(binary.LittleEndian.Uint16(b))), int(b[2])
		samples = append(samples, float32(value)/32768)
		for _, pair := range b[blockHead:] {
			for _, code := range [2]byte{pair & 15, pair >> 4} {
				value, index = nextADPCM(value, index, code)
				samples = append(samples, float32(value)/32768)
			}
		}
	}
	if len(samples) < count {
		return nil, fmt.Errorf("%d samples; expected %d", len(samples), count)
	}
	return samples[:count], nil
}

// nextADPCM is the sample and the index after a code.
func nextADPCM(value, index int, code byte) (int, int) {
	step := stepSizes[index]
	change := step >> 3
	for bit, part := byte(4), step; bit > 0; bit, part = bit>>1, part>>1 {
		if code&bit != 0 {
			change += part
		}
	}
	if code&8 != 0 {
		change = -change
	}
	value = min(max(value+change, -32768), 32767)
	return value, min(max(index+indexMoves[code&7], 0), len(stepSizes)-1)
}

// decodeMuLaw is the samples of mu-law codes, at full scale 1: the code's complement is
// a sign, three bits of exponent and four of mantissa.
func decodeMuLaw(codes []byte) []float32 {
	samples := make([]float32, len(codes))
	for i, code := range codes {
		code = ^code
		value := (int(code&15)<<3+132)<<(code>>4&7) - 132
		if code&128 != 0 {
			value = -value
		}
		samples[i] = float32(value) / 32768
	}
	return samples
}

// The format tags.
const (
	muLaw = 7
	adpcm = 17
)

// readRecording takes a WAV file of 16 kHz mono apart.
func readRecording(file []byte) ([]float32, error) {
	if len(file) < 12 || string(file[:4]) != "RIFF" || string(file[8:12]) != "WAVE" {
		return nil, fmt.Errorf("no WAV file")
	}
	tag, block, count := uint16(0), 0, 0
	for rest := file[12:]; len(rest) >= 8; {
		id, size := string(rest[:4]), int(binary.LittleEndian.Uint32(rest[4:]))
		body := rest[8:]
		if size > len(body) {
			return nil, fmt.Errorf("chunk %q of %d bytes; there are %d", id, size, len(body))
		}
		rest, body = body[min(size+size%2, len(body)):], body[:size]
		switch {
		case id == "fmt " && size >= 16:
			channels, rate := binary.LittleEndian.Uint16(body[2:]), binary.LittleEndian.Uint32(body[4:])
			tag = binary.LittleEndian.Uint16(body)
			if tag != adpcm && tag != muLaw || channels != 1 || rate != uint32(spokenRate) {
				return nil, fmt.Errorf("format %d, %d channels, %d Hz; expected mu-law or IMA ADPCM, mono, 16000 Hz", tag, channels, rate)
			}
			block = int(binary.LittleEndian.Uint16(body[12:]))
		case id == "fact" && size >= 4:
			count = int(binary.LittleEndian.Uint32(body))
		case id == "data" && tag == muLaw:
			return decodeMuLaw(body), nil
		case id == "data" && block > blockHead && count > 0:
			return decodeADPCM(body, block, min(count, 2*size))
		}
	}
	return nil, fmt.Errorf("no samples")
}
