package vtest

// Control sequences and operating system commands.

import (
	"fmt"
	"strconv"
	"strings"
)

// maxParam bounds what a parameter may ask for.
const maxParam = 10000

// csi obeys a control sequence.
func (g *Terminal) csi(params string, final byte) {
	private := strings.TrimLeft(params, "0123456789;:") != ""
	n := numbers(strings.Trim(params, "<=>?"))
	one := max(1, n[0])
	switch {
	case strings.HasPrefix(params, "?") && (final == 'h' || final == 'l'):
		for _, m := range n {
			g.mode(m, final == 'h')
		}
	case private && final == 'u' && g.Behaviour.TellsKeys:
		g.keyboard(params, n[0])
	case private:
	case final == 'm':
		g.sgr(params)
	case final == 'c':
		g.reply("\x1b[?62;22c")
	case final == 'h' || final == 'l':
		g.inserts = n[0] == 4 && final == 'h'
	case final == 'b':
		for range min(one, g.w*g.h) {
			g.putRune(g.last)
		}
	case final == 'r':
		g.margins(n)
	case final == 's':
		g.escape("7")
	case final == 'u':
		g.escape("8")
	case strings.IndexByte("JKXP@LMST", final) >= 0:
		g.edit(final, n[0], one)
	default:
		g.move(final, n, one)
	}
}

// keyboard obeys kitty's keyboard protocol: asked, pushed, popped.
func (g *Terminal) keyboard(params string, n int) {
	switch params[0] {
	case '?':
		g.reply(fmt.Sprintf("\x1b[?%du", g.KeyFlags))
	case '>':
		g.KeyFlags = n
	case '<':
		g.KeyFlags = 0
	}
}

func numbers(params string) []int {
	var list []int
	for _, p := range strings.Split(params, ";") {
		p, _, _ = strings.Cut(p, ":")
		n, _ := strconv.Atoi(p)
		list = append(list, min(max(0, n), maxParam))
	}
	return list
}

func (g *Terminal) margins(n []int) {
	top, bottom := max(1, n[0])-1, g.h-1
	if len(n) > 1 && n[1] > 0 {
		bottom = min(bottom, n[1]-1)
	}
	if top < bottom {
		g.top, g.bottom, g.x, g.y = top, bottom, 0, 0
	}
}

func (g *Terminal) move(final byte, n []int, one int) {
	second := 1
	if len(n) > 1 {
		second = max(1, n[1])
	}
	switch final {
	case 'A':
		g.y -= one
	case 'B', 'e':
		g.y += one
	case 'C', 'a':
		g.x += one
	case 'D':
		g.x -= one
	case 'E':
		g.x, g.y = 0, g.y+one
	case 'F':
		g.x, g.y = 0, g.y-one
	case 'G', '`':
		g.x = one - 1
	case 'H', 'f':
		g.x, g.y = second-1, one-1
	case 'd':
		g.y = one - 1
	default:
		return
	}
	g.x, g.y, g.wrapNext = min(max(0, g.x), g.w-1), min(max(0, g.y), g.h-1), false
}

// edit erases, inserts and scrolls.
func (g *Terminal) edit(final byte, n, one int) {
	at, start := g.y*g.w+g.x, g.y*g.w
	row := g.cells[start : start+g.w]
	some := min(one, g.w-g.x)
	switch final {
	case 'J':
		eraseRange(g.cells, at, n, g.fill)
	case 'K':
		eraseRange(row, g.x, n, g.fill)
	case 'X':
		g.fill(row[g.x : g.x+some])
	case 'P':
		copy(row[g.x:], row[g.x+some:])
		g.fill(row[g.w-some:])
	case '@':
		copy(row[g.x+some:], row[g.x:])
		g.fill(row[g.x : g.x+some])
	case 'L':
		g.scroll(g.y, -one)
	case 'M':
		g.scroll(g.y, one)
	case 'S':
		g.scroll(g.top, one)
	case 'T':
		g.scroll(g.top, -one)
	}
}

// eraseRange erases to the end, from the start, or all.
func eraseRange(cells []cell, at, n int, fill func([]cell)) {
	switch n {
	case 0:
		fill(cells[at:])
	case 1:
		fill(cells[:at+1])
	case 2:
		fill(cells)
	}
}

func (g *Terminal) mode(m int, on bool) {
	switch m {
	case 5:
		g.flipped = on
	case 7:
		g.wraps = on
	case 25:
		g.shown = on
	case 47, 1047, 1049:
		if m == 1049 && on {
			g.escape("7")
		}
		if on != g.alternate {
			g.cells, g.hidden, g.alternate = g.hidden, g.cells, on
		}
		if on {
			g.fill(g.cells)
		}
		if m == 1049 && !on {
			g.escape("8")
		}
	}
}

// sgr obeys colours and attributes.
func (g *Terminal) sgr(params string) {
	list := strings.Split(strings.ReplaceAll(params, ":", ";"), ";")
	for i := 0; i < len(list); i++ {
		n, _ := strconv.Atoi(list[i])
		switch {
		case n == 0:
			g.pen = pen{fg: defaultFG, bg: defaultBG}
		case n == 1:
			g.pen.bold = true
		case n == 4, n == 21:
			g.pen.underline = true
		case n == 7:
			g.pen.reverse = true
		case n == 8:
			g.pen.conceal = true
		case n == 22:
			g.pen.bold = false
		case n == 24:
			g.pen.underline = false
		case n == 27:
			g.pen.reverse = false
		case n == 28:
			g.pen.conceal = false
		case n == 38 || n == 48:
			c, used := extendedColour(list[i+1:])
			i += used
			g.setColour(n == 48, c)
		case n == 39:
			g.pen.fg = defaultFG
		case n == 49:
			g.pen.bg = defaultBG
		case n >= 30 && n < 38 || n >= 40 && n < 48:
			g.setColour(n >= 40, colour(n%10))
		case n >= 90 && n < 98 || n >= 100 && n < 108:
			g.setColour(n >= 100, colour(n%10+8))
		}
	}
}

// setColour dips the pen.
func (g *Terminal) setColour(background bool, c colour) {
	if background {
		g.pen.bg = c
		return
	}
	g.pen.fg = c
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

// osc obeys an operating system command; other strings say nothing to the eye.
func (g *Terminal) osc(seq string) {
	if seq[1] != ']' {
		return
	}
	words := strings.Split(seq[2:], ";")
	target := map[string]*RGB{"10": &g.fg, "11": &g.bg, "12": &g.cursor}[words[0]]
	switch {
	case !g.Behaviour.SetsColours:
	case target != nil && len(words) == 2 && words[1] == "?":
		if g.Behaviour.Answers {
			g.reply(fmt.Sprintf("\x1b]%s;rgb:%02x%02x/%02x%02x/%02x%02x\x1b\\", words[0], target.R, target.R, target.G, target.G, target.B, target.B))
		}
	case target != nil && len(words) == 2:
		namedColour(target, words[1])
	case words[0] == "4":
		for i := 1; i+1 < len(words); i += 2 {
			n, _ := strconv.Atoi(words[i])
			c := paletteEntry(n & 255)
			namedColour(&c, words[i+1])
			g.palette[n&255] = c
		}
	case words[0] == "104":
		clear(g.palette)
	case words[0] == "110":
		g.fg = blackRGB
	case words[0] == "111":
		g.bg = whiteRGB
	case words[0] == "112":
		g.cursor = whiteRGB
	}
}

// console obeys ESC ] P n rr gg bb, which nothing ends (console_codes(4)).
func (g *Terminal) console(seq string) {
	var n int
	var c RGB
	if k, err := fmt.Sscanf(seq, "\x1b]P%1x%02x%02x%02x", &n, &c.R, &c.G, &c.B); k == 4 && err == nil {
		g.palette[n] = c
	}
}

// namedColour reads a colour as rgb:RR/GG/BB.
func namedColour(c *RGB, text string) {
	var n RGB
	if k, err := fmt.Sscanf(text, "rgb:%02x/%02x/%02x", &n.R, &n.G, &n.B); k == 3 && err == nil {
		*c = n
	}
}

func (g *Terminal) reply(s string) {
	if !g.Behaviour.Mute {
		g.Reply = append(g.Reply, s...)
	}
}
