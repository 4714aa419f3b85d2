package light

// What is written on of what the parser found, by the light. The parser calls
// these; each looks at the light anew, since it may change at any byte.

import (
	"strconv"
	"unicode"
	"unicode/utf8"

	"example.org/wetside/sequence"
)

// print shows a character. In the dark it is a space on black; otherwise controls
// in the upper half and broken text show as a mark.
func (g *Filter) print(r rune) {
	switch l := g.Light(); {
	case l == sequence.Dark:
		g.setColour(g.allowed.black)
		r = ' '
	case l == sequence.Safelight && g.colour == "":
		g.setColour(g.allowed.text)
	}
	if r == utf8.RuneError || unicode.IsControl(r) {
		r = unicode.ReplacementChar
	}
	g.out = utf8.AppendRune(g.out, r)
}

// setColour makes sure of a colour, where the light changed inside this write.
func (g *Filter) setColour(pen string) {
	if g.colour != pen {
		g.colour = pen
		g.out = append(g.out, pen...)
	}
}

// control obeys a C0 control. A new line only moves down: scrolling would fill
// the last row with a colour of the terminal's choice.
func (g *Filter) control(b byte) {
	switch b {
	case '\b', '\r':
		g.out = append(g.out, b)
	case '\n', '\v', '\f':
		g.out = append(g.out, "\x1b[B"...)
	}
}

// csi obeys a control sequence: private is its first byte where that is one of
// < = > ?, else 0; params what stands between.
func (g *Filter) csi(private byte, params string, final byte) {
	switch {
	case private == '?':
		g.passMode(params, final)
	case private != 0:
	case final == 'm':
		g.passColour(params)
	case final == 'J' && (params == "2" || params == "3"):
		g.paintBlack()
	case final == 'K' && g.Light() == sequence.White, movesCursor(final):
		g.out = append(append(append(g.out, "\x1b["...), params...), final)
	}
}

// movesCursor tells whether a control sequence only moves the cursor.
func movesCursor(final byte) bool {
	return final >= 'A' && final <= 'H' || final == 'd' || final == 'f' || final == '`'
}

// passMode passes the modes that show nothing: bracketed paste, and the cursor hidden.
// The alternate screen is entered by Begin and left by End.
func (g *Filter) passMode(params string, final byte) {
	switch params + string(final) {
	case "2004h", "2004l", "25l":
		g.out = append(append(append(g.out, "\x1b[?"...), params...), final)
	}
}

// passColour writes an SGR: in the dark black, under a safelight one of ours, in
// white light any.
func (g *Filter) passColour(params string) {
	switch l := g.Light(); {
	case l == sequence.White:
		g.colour = ""
		g.out = append(append(append(g.out, "\x1b["...), params...), 'm')
		return
	case l == sequence.Dark:
		g.colour = g.allowed.black
	case g.allowed.sgr[params]:
		g.colour = "\x1b[" + params + "m"
	default:
		g.colour = g.allowed.text
	}
	g.out = append(g.out, g.colour...)
}

// paintBlack makes every cell black by writing spaces: what an erased cell looks like
// is the terminal's choice. The cursor goes home and stays hidden. Where the
// size is not known the screen is erased in black, which most terminals obey.
func (g *Filter) paintBlack() {
	g.colour = g.allowed.black
	g.out = append(append(g.out, "\x1b[?25l"...), g.colour...)
	w, h, err := g.size()
	if err != nil || w <= 0 || h <= 0 {
		g.out = append(g.out, "\x1b[H\x1b[2J"...)
		return
	}
	for y := 1; y <= h; y++ {
		g.out = append(g.out, "\x1b["...)
		g.out = strconv.AppendInt(g.out, int64(y), 10)
		g.out = append(g.out, ";1H"...)
		for range w {
			g.out = append(g.out, ' ')
		}
	}
	g.out = append(g.out, "\x1b[H"...)
}
