package room

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
func (g *Guard) print(r rune) {
	switch l := g.Light(); {
	case l == sequence.Dark:
		g.use(g.tint.black)
		r = ' '
	case l == sequence.Safelight && g.pen == "":
		g.use(g.tint.text)
	}
	if r == utf8.RuneError || unicode.IsControl(r) {
		r = unicode.ReplacementChar
	}
	g.out = utf8.AppendRune(g.out, r)
}

// use makes sure of a colour, where the light changed inside this write.
func (g *Guard) use(pen string) {
	if g.pen != pen {
		g.pen = pen
		g.out = append(g.out, pen...)
	}
}

// control obeys a C0 control. A new line only moves down: scrolling would fill
// the last row with a colour of the terminal's choice.
func (g *Guard) control(b byte) {
	switch b {
	case '\b', '\r':
		g.out = append(g.out, b)
	case '\n', '\v', '\f':
		g.out = append(g.out, "\x1b[B"...)
	}
}

// csi obeys a control sequence: private is its first byte where that is one of
// < = > ?, else 0; params what stands between.
func (g *Guard) csi(private byte, params string, final byte) {
	switch {
	case private == '?':
		g.mode(params, final)
	case private != 0:
	case final == 'm':
		g.colour(params)
	case final == 'J' && (params == "2" || params == "3"):
		g.paint()
	case final == 'K' && g.Light() == sequence.White, moves(final):
		g.out = append(append(append(g.out, "\x1b["...), params...), final)
	}
}

// moves tells whether a control sequence only moves the cursor.
func moves(final byte) bool {
	return final >= 'A' && final <= 'H' || final == 'd' || final == 'f' || final == '`'
}

// mode passes the modes that show nothing: bracketed paste, and the cursor hidden.
// The alternate screen is entered by Begin and left by End.
func (g *Guard) mode(params string, final byte) {
	switch params + string(final) {
	case "2004h", "2004l", "25l":
		g.out = append(append(append(g.out, "\x1b[?"...), params...), final)
	}
}

// colour writes an SGR: in the dark black, under a safelight one of ours, in
// white light any.
func (g *Guard) colour(params string) {
	switch l := g.Light(); {
	case l == sequence.White:
		g.pen = ""
		g.out = append(append(append(g.out, "\x1b["...), params...), 'm')
		return
	case l == sequence.Dark:
		g.pen = g.tint.black
	case g.tint.ours[params]:
		g.pen = "\x1b[" + params + "m"
	default:
		g.pen = g.tint.text
	}
	g.out = append(g.out, g.pen...)
}

// paint makes every cell black by writing spaces: what an erased cell looks like
// is the terminal's choice. The cursor goes home and stays hidden. Where the
// size is not known the screen is erased in black, which most terminals obey.
func (g *Guard) paint() {
	g.pen = g.tint.black
	g.out = append(append(g.out, "\x1b[?25l"...), g.pen...)
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
