package vtest

// The pen: colours and attributes of what is written next.

import (
	"strconv"
	"strings"
)

// sgr obeys colours and attributes.
func (g *pen) sgr(params string) {
	list := strings.Split(strings.ReplaceAll(params, ":", ";"), ";")
	for i := 0; i < len(list); i++ {
		n, _ := strconv.Atoi(list[i])
		switch {
		case n == 0:
			*g = pen{fg: defaultFG, bg: defaultBG}
		case n == 1:
			g.bold = true
		case n == 4, n == 21:
			g.underline = true
		case n == 7:
			g.reverse = true
		case n == 8:
			g.conceal = true
		case n == 22:
			g.bold = false
		case n == 24:
			g.underline = false
		case n == 27:
			g.reverse = false
		case n == 28:
			g.conceal = false
		case n == 38 || n == 48:
			c, used := extendedColour(list[i+1:])
			i += used
			g.setColour(n == 48, c)
		case n == 39:
			g.fg = defaultFG
		case n == 49:
			g.bg = defaultBG
		case n >= 30 && n < 38 || n >= 40 && n < 48:
			g.setColour(n >= 40, colour(n%10))
		case n >= 90 && n < 98 || n >= 100 && n < 108:
			g.setColour(n >= 100, colour(n%10+8))
		}
	}
}

// setColour dips the pen.
func (g *pen) setColour(background bool, c colour) {
	if background {
		g.bg = c
		return
	}
	g.fg = c
}

// extendedColour reads what follows 38 or 48, and how many parameters it took.
func extendedColour(list []string) (colour, int) {
	v := func(i int) colour {
		if i >= len(list) {
			return 0
		}
		n, _ := strconv.Atoi(list[i])
		return colour(n & 255)
	}
	switch v(0) {
	case 5:
		return v(1), 2
	case 2:
		return direct | v(1)<<16 | v(2)<<8 | v(3), 4
	}
	return 0, 0
}
