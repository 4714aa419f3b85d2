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
		g.pen.sgr(params)
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

func (g *Terminal) reply(s string) {
	if !g.Behaviour.Mute {
		g.Reply = append(g.Reply, s...)
	}
}
