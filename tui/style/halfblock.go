package style

import "strconv"

// HalfBlocks are cells of two colours each, the upper and the lower half of every cell. The lower one is
// never quite black: by a ground of its own tui/light knows a photograph, where there are no half blocks.
func HalfBlocks(upper, lower [][3]uint8) string {
	var b []byte
	var last [2][3]uint8
	for i := range upper {
		if now := [2][3]uint8{upper[i], lower[i]}; i == 0 || now != last {
			b = appendColour(append(b, "\x1b[38;2"...), upper[i])
			b = append(appendColour(append(b, ";48;2"...), notBlack(lower[i])), 'm')
			last = now
		}
		b = append(b, "▀"...)
	}
	return string(append(b, reset...))
}

func notBlack(c [3]uint8) [3]uint8 {
	if c == [3]uint8{} {
		return [3]uint8{1, 1, 1}
	}
	return c
}

func appendColour(b []byte, c [3]uint8) []byte {
	for _, v := range c {
		b = strconv.AppendUint(append(b, ';'), uint64(v), 10)
	}
	return b
}

// What is marked on a picture: the colours of Now, Ink and Care.
var (
	NowMark  = [3]uint8{0xf2, 0xa9, 0x3b}
	InkMark  = [3]uint8{0xd8, 0xd4, 0xcc}
	CareMark = [3]uint8{0xe6, 0xd0, 0x5a}
)
