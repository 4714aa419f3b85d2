package vtest

// The bytes: characters, controls, sequences and strings told apart.

import (
	"strings"
	"unicode/utf8"
)

type scanner struct {
	rune []byte
	seq  []byte // an escape sequence or string so far, from its ESC; nil on the ground
}

// Write takes what a program wrote.
func (g *Terminal) Write(p []byte) (int, error) {
	for _, b := range p {
		g.putByte(b)
	}
	return len(p), nil
}

// putByte gathers whole characters. Characters U+0080 to U+009F are controls, as in
// xterm.
func (g *Terminal) putByte(b byte) {
	s := &g.scan
	if len(s.rune) > 0 && utf8.RuneStart(b) {
		s.rune = s.rune[:0]
		g.character(utf8.RuneError)
	}
	s.rune = append(s.rune, b)
	for len(s.rune) > 0 && utf8.FullRune(s.rune) {
		r, n := utf8.DecodeRune(s.rune)
		s.rune = s.rune[n:]
		if r >= 0x80 && r < 0xa0 {
			g.character(0x1b)
			r -= 0x40
		}
		g.character(r)
	}
}

func (g *Terminal) character(r rune) {
	s := &g.scan
	switch {
	case r == 0x1b:
		text := g.inString() && len(s.seq) > 1
		if text {
			g.osc(string(s.seq)) // ended by ESC \, or cut off by another sequence
		}
		s.seq = []byte{0x1b}
	case r == 0x18 || r == 0x1a:
		s.seq = nil
	case g.inString():
		if r == 7 {
			g.osc(string(s.seq))
			s.seq = nil
			return
		}
		s.seq = utf8.AppendRune(s.seq, r)
		switch {
		case !g.Behaviour.Console:
		case s.seq[2] == 'R':
			clear(g.palette)
			s.seq = nil
		case s.seq[2] == 'P' && len(s.seq) == 10:
			g.console(string(s.seq))
			s.seq = nil
		}
	case r < 0x20:
		g.control(r)
	case r == 0x7f:
	case s.seq != nil:
		s.seq = utf8.AppendRune(s.seq, r)
		g.sequence()
	default:
		g.putRune(r)
	}
}

// inString tells whether an OSC, DCS, SOS, PM or APC is going on.
func (g *Terminal) inString() bool {
	return len(g.scan.seq) > 1 && strings.IndexByte("]PX^_", g.scan.seq[1]) >= 0
}

// sequence looks whether the escape sequence is whole, and obeys it.
func (g *Terminal) sequence() {
	seq := g.scan.seq
	final := seq[len(seq)-1]
	switch {
	case g.inString():
	case seq[1] == '[':
		if len(seq) > 2 && final >= 0x40 {
			g.scan.seq = nil
			g.csi(string(seq[2:len(seq)-1]), final)
		}
	case final >= 0x30:
		g.scan.seq = nil
		g.escape(string(seq[1:]))
	}
}

func (g *Terminal) control(r rune) {
	switch r {
	case 7:
		g.Bells++
	case '\b':
		g.x, g.wrapNext = max(0, g.x-1), false
	case '\t':
		g.x, g.wrapNext = min(g.w-1, g.x/8*8+8), false
	case '\n', '\v', '\f':
		g.lineFeed()
	case '\r':
		g.x, g.wrapNext = 0, false
	}
}

func (g *Terminal) escape(s string) {
	switch s {
	case "7":
		g.saved.x, g.saved.y, g.saved.pen = g.x, g.y, g.pen
	case "8":
		g.x, g.y, g.pen = min(g.saved.x, g.w-1), min(g.saved.y, g.h-1), g.saved.pen
	case "c":
		g.reset()
	case "D":
		g.lineFeed()
	case "E":
		g.x = 0
		g.lineFeed()
	case "M":
		if g.y == g.top {
			g.scroll(g.top, -1)
		} else {
			g.y = max(0, g.y-1)
		}
	case "#8":
		for i := range g.cells {
			g.cells[i] = cell{'E', pen{fg: defaultFG, bg: defaultBG}}
		}
	}
}
