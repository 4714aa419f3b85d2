package light

// What a terminal can: how the colours of a cell are told to it.

import (
	"image/color"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Profile is how many colours a terminal has.
type Profile uint8

const (
	NoColours   Profile = iota // nothing is shown but in white light
	Sixteen                    // in red and by safelight one red, whose shade the guard sets
	TwoFiftySix                // the table of 256
	FullColour                 // 24 bits
)

// ProfileOf tells what the environment says of the terminal, which itself is not asked. One
// that does not tell is believed to have few colours.
func ProfileOf(getenv func(string) string) Profile {
	kind, more := getenv("TERM"), strings.ToLower(getenv("COLORTERM"))
	switch {
	case kind == "dumb" || kind == "":
		return NoColours
	case kind == "linux":
		return Sixteen
	case more == "truecolor" || more == "24bit" || strings.HasSuffix(kind, "direct"):
		return FullColour
	case more != "" || strings.Contains(kind, "256"):
		return TwoFiftySix
	}
	return Sixteen
}

// pen writes colours. It remembers what the last ones came to.
type pen struct {
	profile Profile
	light   Light
	names   map[[2]rgb]string
}

// maxNames bounds what is remembered.
const maxNames = 1 << 12

// set appends the sequence that makes the next characters look like a cell: both colours,
// bold and underline, in full. There is no bare reset, which would show the terminal's own.
func (p *pen) set(out []byte, c cell) []byte {
	if p.profile == NoColours {
		return out
	}
	out = append(out, "\x1b["...)
	out = append(out, pick(c.bold && p.boldIsSafe(), "1;", "22;")...)
	out = append(out, pick(c.under, "4;", "24;")...)
	out = append(out, p.colours(c.fg, c.bg)...)
	return append(out, 'm')
}

// boldIsSafe: with sixteen colours bold may show as the lighter red, which has green and
// blue in it where nobody can set the terminal's colours.
func (p *pen) boldIsSafe() bool { return p.profile > Sixteen || p.light == White }

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

func (p *pen) colours(fg, bg rgb) string {
	k := [2]rgb{fg, bg}
	if s, ok := p.names[k]; ok {
		return s
	}
	if p.names == nil || len(p.names) >= maxNames {
		p.names = map[[2]rgb]string{}
	}
	s := p.name(fg, bg)
	p.names[k] = s
	return s
}

func (p *pen) name(fg, bg rgb) string {
	switch {
	case p.profile == Sixteen && p.light == White:
		return white16(fg, bg)
	case p.profile == Sixteen:
		return red16(fg, bg)
	case p.profile == TwoFiftySix && p.light == White:
		return "38;5;" + strconv.Itoa(int(ansi.Convert256(colour(fg)))) + ";48;5;" + strconv.Itoa(int(ansi.Convert256(colour(bg))))
	case p.profile == TwoFiftySix:
		if p.light == Red && bg != 0 && fg != bg {
			fg = red(0xff) // the table has no darker red to fill with than 0x5f
		}
		return "38;5;" + entry(fg) + ";48;5;" + entry(bg)
	}
	return "38;" + p.full(fg) + ";48;" + p.full(bg)
}

// full is a colour in 24 bits. Black, and all that is shown while film may be open, is
// taken from the table: a terminal that claims 24 bits and has none would fall back to
// its own colours.
func (p *pen) full(c rgb) string {
	r, g, b := c.parts()
	if c == 0 || p.light == Dark || p.light == Safelight {
		return "5;" + entry(c)
	}
	return "2;" + strconv.Itoa(int(r)) + ";" + strconv.Itoa(int(g)) + ";" + strconv.Itoa(int(b))
}

func colour(c rgb) color.Color {
	r, g, b := c.parts()
	return color.RGBA{r, g, b, 0xff}
}

// reds are the levels of the six entries of the 256 with green and blue at zero: 16 + 36 n
// (xterm's ctlseqs, "256-color cube").
var reds = [6]int{0, 0x5f, 0x87, 0xaf, 0xd7, 0xff}

// entry is the least of the six reds that is no darker, so that what was lifted stays so.
func entry(c rgb) string {
	r, _, _ := c.parts()
	for i, level := range reds {
		if level >= int(r) {
			return strconv.Itoa(16 + 36*i)
		}
	}
	return "196"
}

// red16 is one red on black, and black on red where something is filled: there is no
// darker red to fill with.
func red16(fg, bg rgb) string {
	switch {
	case fg == bg && bg == 0:
		return "30;40"
	case bg != 0:
		return "30;41"
	}
	return "31;40"
}

// white16 is the nearest of sixteen; a row that is filled is black on white, and the dark
// grey, which many settings of a terminal make too dark to read, is lifted.
func white16(fg, bg rgb) string {
	back, ink := 0, int(ansi.Convert16(colour(fg)))
	if ink%8 == 1 && luminance(fg) > 0.40 {
		ink = 11 // amber is yellow rather than red, which means danger
	}
	switch {
	case bg != 0 && luminance(bg) < bright:
		back, ink = 7, 0
	case bg != 0:
		back, ink = 3, 0 // the cursor, also in a row that is filled
	case (ink == 8 || ink == 0) && fg != 0:
		ink = 7
	}
	if ink >= 8 {
		ink += 90 - 38 // the lighter eight
	}
	return strconv.Itoa(30+ink) + ";" + strconv.Itoa(40+back)
}
