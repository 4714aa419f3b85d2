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
	case kind == "dumb":
		return NoColours
	case kind == "":
		return bareTerminal
	case kind == "linux":
		return Sixteen
	case more == "truecolor" || more == "24bit" || strings.HasSuffix(kind, "direct"):
		return FullColour
	case more != "" || strings.Contains(kind, "256"):
		return TwoFiftySix
	}
	return Sixteen
}

// Reds sets the one red of a terminal with sixteen colours, as a light needs it: dim while film
// may be open, else as bright as is wanted. The Linux console speaks its own language
// (console_codes(4)). It is empty where nothing is set.
func (p Profile) Reds(l Light, console bool) string {
	if p != Sixteen || l != Red && l != Safelight {
		return ""
	}
	level := pick(l == Red, "ff", "aa")
	if console {
		return "\x1b]P1" + level + "0000"
	}
	return "\x1b]4;1;rgb:" + level + "/00/00\x1b\\"
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
	if p.profile == TwoFiftySix && p.light == Red && c.bg == red(lowest) {
		c = underlined(c)
	}
	out = append(out, "\x1b["...)
	out = append(out, pick(c.bold && p.boldIsSafe(c), "1;", "22;")...)
	out = append(out, pick(c.under, "4;", "24;")...)
	out = append(out, p.colours(c.fg, c.bg)...)
	return append(out, 'm')
}

// underlined is a cell of the selected row where the table has no red dark enough to fill with:
// on the least of its reds the brightest letter has 3.5:1.
func underlined(c cell) cell {
	if c.fg == c.bg {
		c.fg = red(labels)
	}
	c.bg, c.under = 0, true
	return c
}

// boldIsSafe: with sixteen colours bold may show as the lighter red, which has green and
// blue in it where nobody can set the terminal's colours; and black on a filled row as grey.
func (p *pen) boldIsSafe(c cell) bool {
	return p.profile > Sixteen || p.light == White && c.bg == 0
}

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
		return "38;5;" + strconv.Itoa(int(ansi.Convert256(colour(fg)))) + ";48;5;" + back256(bg)
	case p.profile == TwoFiftySix:
		return "38;5;" + entry(fg) + ";48;5;" + entry(bg)
	}
	return "38;" + p.full(fg) + ";48;" + p.full(bg)
}

// back256 is a background in white light; the row that is filled is a grey, of which the table has
// darker ones than of any colour.
func back256(bg rgb) string {
	const darkGrey = "235" // #262626
	r, g, b := bg.parts()
	if luminance(bg) < bright && !(r == g && g == b) { // a grey is of a picture, or black
		return darkGrey
	}
	return strconv.Itoa(int(ansi.Convert256(colour(bg))))
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

// reds are the levels of the first five of six entries of the 256 with green and blue at zero:
// 16 + 36 n (xterm's ctlseqs, "256-color cube"). The last is full red.
var reds = [5]int{0, 0x5f, 0x87, 0xaf, 0xd7}

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
	if ink == 4 || ink == 12 {
		ink = 14 // blue is too dark on black in most settings
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
