package light

// Plain glyphs, for the Linux console and whoever asks for them: its fonts have full blocks and
// lines, no half blocks and no braille. A view is drawn as ever, and each of its cells is
// replaced by what such a font has, so that no screen can forget to.

import (
	"strings"
	"unicode"
)

// plainSymbols are in each of the 369 Latin, Greek and Cyrillic fonts of Debian's
// console-setup-linux 1.221 and in code page 437, which the kernel's own font has
// (testdata/console_fonts.py reads them).
const plainSymbols = "£°±←↑→↓≤≥─│┌┐└┘├┤┬┴┼═║╒╔╗╘╙╚╛╝╞╟╠╡╣╦╧╨╩╪╬█░▒■▲▼"

// plainStandIns are what else the screens draw, by what stands for it.
var plainStandIns = map[rune]rune{
	'▀': '■', '▄': '■', '▌': '█', // of large letters, of the strip where it is light, of the chosen row
	'━': '═', '═': '#', '┃': '│', '┄': '.', // wet, wet for too long, the limit, to spare
	'▸': '>', '▶': '>', '◂': '<', '›': '>', '‹': '<',
	'…': '~', '–': '-', '—': '-', '−': '-', '×': 'x', '²': '2', '·': '.', '•': 'o', '≠': '!', '●': 'o', '◆': '*',
	'‘': '\'', '’': '\'', '“': '"', '”': '"', '\u00a0': ' ',
}

// plainGlyph is what stands for a character. Letters of names stay: a person's console has
// the font of that person's language.
func plainGlyph(r rune) rune {
	switch stand, known := plainStandIns[r]; {
	case r <= '~':
		return r
	case known:
		return stand
	case r >= 0x2800 && r <= 0x28ff:
		return plainDots(uint8(r - 0x2800))
	case unicode.IsLetter(r), unicode.IsDigit(r), strings.ContainsRune(plainSymbols, r):
		return r
	}
	return '?'
}

// Rows of dots in a braille character, from the top (Unicode, "Braille Patterns", U+2800).
const (
	topDots    = 0x01 | 0x08
	upperDots  = 0x02 | 0x10
	lowerDots  = 0x04 | 0x20
	bottomDots = 0x40 | 0x80
)

// plainDots is the character whose ink lies where the dots do.
func plainDots(dots uint8) rune {
	upper, lower := dots&(topDots|upperDots) != 0, dots&(lowerDots|bottomDots) != 0
	switch {
	case dots == 0:
		return ' '
	case dots&topDots != 0 && dots&bottomDots != 0:
		return '│'
	case upper && lower:
		return '-'
	case upper:
		return '\''
	case dots&lowerDots == 0:
		return '_'
	}
	return '.'
}

// plain makes all cells of a picture plain. A half block over a ground of its own is of a photograph: it
// becomes a full one of the colour between.
func (p *picture) plain() {
	for i, c := range p.cells {
		if c.r == '▀' && c.bg != plainBack {
			between := middle(c.fg, c.bg)
			p.cells[i].r, p.cells[i].fg, p.cells[i].bg = '█', between, between
			continue
		}
		p.cells[i].r, p.cells[i].marks = plainGlyph(c.r), ""
	}
}

// middle is the colour between two.
func middle(a, b rgb) rgb {
	const half = 0x7f7f7f // of each part
	return a>>1&half + b>>1&half + a&b&0x010101
}
