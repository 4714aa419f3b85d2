package light

// Characters that bring a colour of their own, and what stands for them by red light.

import (
	"slices"
	"unicode"
)

// mark stands for a character that cannot be shown.
const mark = unicode.ReplacementChar

// glows tells whether a terminal may draw a character as a picture in its own colours,
// whatever colour was asked for: such a picture gives green and blue light. The ranges hold
// every character outside ASCII with the property Emoji (Unicode's emoji-data.txt), and around
// them whatever may come to have it.
func glows(r rune) bool {
	_, is := slices.BinarySearchFunc(pictures, r, func(p [2]rune, r rune) int {
		switch {
		case p[1] < r:
			return -1
		case p[0] > r:
			return 1
		}
		return 0
	})
	return is
}

// pictures are first and last of each range, in order.
var pictures = [][2]rune{
	{0x00a9, 0x00a9}, {0x00ae, 0x00ae}, {0x203c, 0x203c}, {0x2049, 0x2049},
	{0x20e3, 0x20e3}, {0x2122, 0x2122}, {0x2139, 0x2139}, {0x2194, 0x2199},
	{0x21a9, 0x21aa}, {0x2300, 0x23ff}, {0x24c2, 0x24c2}, {0x25aa, 0x25ab},
	{0x25b6, 0x25b6}, {0x25c0, 0x25c0}, {0x25fb, 0x25fe}, {0x2600, 0x27bf},
	{0x2934, 0x2935}, {0x2b00, 0x2bff}, {0x3030, 0x3030}, {0x303d, 0x303d},
	{0x3297, 0x3297}, {0x3299, 0x3299}, {0xe000, 0xf8ff},
	{0x1f000, 0x1ffff}, {0xe0000, 0x10ffff},
}
