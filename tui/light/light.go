// Package light is the way from a view to the terminal's bytes.
//
// A screen is drawn once, in full colour, as ordinary text with colours in it. A Frame
// makes cells of that text, passes each cell through the filter of the present light
// and comes to the bytes that change what is on the terminal. The filter sees colours
// and characters only, never what they mean: that a dark screen is dark is true of every
// cell, whatever a screen draws. A Guard begins and ends the terminal's service and is the
// only one to write to it. Start with NewGuard and NewFrame.
//
// A Frame asks the terminal nothing and holds no writer and no clock. NO_COLOR is not heeded:
// red and black are a matter of safety, and a cell without a colour would take the
// terminal's own, which may be white.
package light

// Light is what the screen may show. The zero of it is the safe one.
type Light uint8

const (
	Dark      Light = iota // every cell is blank, black on black
	Safelight              // film is open, of a kind that bears dim red: as dim as can still be read
	Red                    // red as bright as is wanted, no green, no blue
	White                  // as drawn
)

func (l Light) String() string {
	switch l {
	case Safelight:
		return "safelight"
	case Red:
		return "red"
	case White:
		return "white"
	}
	return "dark"
}

// Named is the light of that name; Dark for any other.
func Named(name string) Light {
	for _, l := range []Light{Safelight, Red, White} {
		if l.String() == name {
			return l
		}
	}
	return Dark
}

// rgb is a colour: red in bits 16 to 23, green in 8 to 15, blue in 0 to 7.
type rgb uint32

func (c rgb) parts() (r, g, b uint8) { return uint8(c >> 16), uint8(c >> 8), uint8(c) }

func red(level uint8) rgb { return rgb(level) << 16 }

// What a cell has whose text names no colour.
const (
	plainInk  rgb = 0xd8d4cc
	plainBack rgb = 0x000000
)

// cell is one column of the screen.
type cell struct {
	r      rune   // ' ' where there is nothing to see, 0 in the second half of a wide character
	marks  string // what combines with it
	width  uint8  // 1 or 2; 0 in the second half of a wide character
	bold   bool
	under  bool // underlined
	fg, bg rgb
}

var blank = cell{r: ' ', width: 1, fg: plainBack, bg: plainBack}
