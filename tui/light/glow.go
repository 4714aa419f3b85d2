package light

// Characters that bring a colour of their own, and what stands for them by red light.

import "unicode"

// mark stands for a character that cannot be shown.
const mark = unicode.ReplacementChar

// glows tells whether a terminal may draw a character as a picture in its own colours,
// whatever colour was asked for: such a picture gives green and blue light. The ranges hold
// every character outside ASCII with the property Emoji (Unicode's emoji-data.txt), and around
// them whatever may come to have it.
func glows(r rune) bool { return unicode.Is(pictures, r) }

// pictures are first and last of each range, in order.
var pictures = &unicode.RangeTable{
	R16: []unicode.Range16{
		{0x00a9, 0x00a9, 1}, {0x00ae, 0x00ae, 1}, {0x203c, 0x203c, 1}, {0x2049, 0x2049, 1},
		{0x20e3, 0x20e3, 1}, {0x2122, 0x2122, 1}, {0x2139, 0x2139, 1}, {0x2194, 0x2199, 1},
		{0x21a9, 0x21aa, 1}, {0x2300, 0x23ff, 1}, {0x24c2, 0x24c2, 1}, {0x25aa, 0x25ab, 1},
		{0x25b6, 0x25b6, 1}, {0x25c0, 0x25c0, 1}, {0x25fb, 0x25fe, 1}, {0x2600, 0x27bf, 1},
		{0x2934, 0x2935, 1}, {0x2b00, 0x2bff, 1}, {0x3030, 0x3030, 1}, {0x303d, 0x303d, 1},
		{0x3297, 0x3297, 1}, {0x3299, 0x3299, 1}, {0xe000, 0xf8ff, 1},
	},
	R32: []unicode.Range32{{0x1f000, 0x1ffff, 1}, {0xe0000, 0x10ffff, 1}},
}
