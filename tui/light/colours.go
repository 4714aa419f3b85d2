package light

// The colours that may reach the terminal while film may be open. NO_COLOR is
// not heeded here: red and black are a matter of safety, and cells without a
// colour take the terminal's own, which may be white.

import (
	"fmt"
	"strings"
)

// Colours is how many colours the screens may count on: 256, 16, or 0 where there
// can be no screens. The environment is all that is asked; a terminal that does
// not tell is believed to have few.
func Colours(getenv func(string) string) int {
	kind := getenv("TERM")
	switch {
	case kind == "dumb" || kind == "":
		return 0
	case kind == "linux":
		return 16
	case getenv("COLORTERM") != "" || strings.Contains(kind, "256") || strings.Contains(kind, "direct"):
		return 256
	}
	return 16
}

// allowedColours is the SGR that may be written, and those that stand for others.
type allowedColours struct {
	black string          // black on black
	text  string          // ordinary text, in red
	sgr   map[string]bool // the parameters of every SGR that has no green and no blue
}

// redIndices are the entries of the 256-colour cube with green and blue at zero:
// 16 + 36 r for r = 0..5 (xterm's ctlseqs, "256-color cube").
var redIndices = []int{16, 52, 88, 124, 160, 196}

// allowedColoursFor is the tint for a terminal of that many colours. In sixteen colours only
// black and red are used, whose shades Begin sets. Bold is not: many terminals show it as
// the lighter red, which has green and blue in it where they let nobody set their colours.
func allowedColoursFor(colours int) allowedColours {
	if colours >= 256 {
		t := allowedColours{black: "\x1b[38;5;16;48;5;16m", text: "\x1b[38;5;124;48;5;16m", sgr: map[string]bool{}}
		for _, n := range redIndices {
			t.sgr[fmt.Sprintf("38;5;%d;48;5;16", n)] = true
		}
		return t
	}
	return allowedColours{black: "\x1b[22;30;40m", text: "\x1b[22;31;40m",
		sgr: map[string]bool{"22;30;40": true, "22;31;40": true}}
}
