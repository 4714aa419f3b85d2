package tui

// Every colour there is. The resting palette is red on black: a level is a
// brightness, and the same picture serves under a safelight. White serves where
// the room has white light and the person asked for it.

import "fmt"

// brightness is how bright a cell is.
type brightness uint8

// The levels, darkest first.
const (
	black  brightness = iota
	faint             // frames, what is still to come
	dim               // labels, what is past reading
	text              // ordinary text
	strong            // what matters now
	bright            // the one thing to see from two metres
	levels
)

// palette is the SGR for each level; all name both colours in full.
type palette [levels]string

// red256 are the entries of the 256-colour table that have no green and no blue.
var red256 = indexed(16, 52, 88, 124, 160, 196)

// dim256 serves while film lies open by safelight: no tested safelight, but as little
// light as can still be read.
var dim256 = indexed(16, 52, 52, 88, 88, 124)

// red16 serves terminals of sixteen colours or fewer: one red, since the lighter one may
// hold green and blue.
var red16 = palette{
	"\x1b[22;30;40m", "\x1b[22;31;40m", "\x1b[22;31;40m", "\x1b[22;31;40m", "\x1b[22;31;40m", "\x1b[22;31;40m",
}

// white256 is the palette for white light.
var white256 = indexed(16, 242, 247, 252, 255, 214)

func indexed(entries ...int) palette {
	var p palette
	for i, n := range entries {
		p[i] = fmt.Sprintf("\x1b[38;5;%d;48;5;16m", n)
	}
	return p
}
