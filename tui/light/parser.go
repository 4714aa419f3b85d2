package light

// The escape stream, byte by byte, whatever the pieces it comes in. The states
// are those of ECMA-48 as P. Williams drew them up for the DEC VT500 (vt100.net,
// "A parser for DEC's ANSI-compatible video terminals"), with UTF-8 on the
// ground. Only what was understood to its end is handed on.

import "unicode/utf8"

// parserEvents is told what the parser found.
type parserEvents interface {
	print(rune)
	control(byte)
	csi(private byte, params string, final byte)
}

type state byte

const (
	ground     state = iota
	escaped          // after ESC
	escapedTwo       // after ESC and an intermediate byte: one final byte more
	inCSI            // in a control sequence
	skipCSI          // in a control sequence that is of no use
	inString         // in an OSC, DCS, SOS, PM or APC string
)

// maxParams is how many parameter bytes a control sequence may have; ours have 17.
const maxParams = 64

// The control bytes that steer the parser.
const (
	esc = 0x1b
	can = 0x18
	sub = 0x1a
	bel = 0x07
	del = 0x7f
)

// parser is a place in the stream. Its zero value is the ground.
type parser struct {
	state   state
	private byte
	params  []byte
	rune    []byte // of a character not yet whole
}

// next takes one byte.
func (p *parser) next(b byte, to parserEvents) {
	if b != esc && p.state == ground && (b >= utf8.RuneSelf || len(p.rune) > 0) {
		p.character(b, to)
		return
	}
	switch {
	case b == esc:
		p.broken(to)
		p.state = escaped
	case b == can || b == sub:
		p.state = ground
	case b < 0x20:
		p.control(b, to)
	case b == del:
	case b >= utf8.RuneSelf && p.state != inString:
		p.state = ground // 8-bit controls are not spoken here
	default:
		p.graphic(b, to)
	}
}

// control takes a C0 control: it acts inside a sequence too, but not in a string.
func (p *parser) control(b byte, to parserEvents) {
	switch {
	case p.state == inString && b == bel:
		p.state = ground
	case p.state != inString:
		to.control(b)
	}
}

// graphic takes a byte that is none of the controls.
func (p *parser) graphic(b byte, to parserEvents) {
	switch p.state {
	case ground:
		to.print(rune(b))
	case escaped:
		p.escape(b)
	case escapedTwo:
		if b >= 0x30 {
			p.state = ground
		}
	case inCSI:
		p.parameter(b, to)
	case skipCSI:
		if b >= 0x40 {
			p.state = ground
		}
	}
}

// escape takes the byte after ESC. None of the two-byte sequences is harmless:
// they scroll, restore colours, reset, switch character sets.
func (p *parser) escape(b byte) {
	switch b {
	case '[':
		p.state, p.private, p.params = inCSI, 0, p.params[:0]
	case ']', 'P', 'X', '^', '_':
		p.state = inString
	default:
		p.state = ground
		if b < 0x30 {
			p.state = escapedTwo
		}
	}
}

// parameter takes a byte of a control sequence.
func (p *parser) parameter(b byte, to parserEvents) {
	switch {
	case b >= 0x40:
		p.state = ground
		to.csi(p.private, string(p.params), b)
	case b >= '<' && len(p.params) == 0 && p.private == 0:
		p.private = b
	case (b >= '0' && b <= '9' || b == ';') && len(p.params) < maxParams:
		p.params = append(p.params, b)
	default:
		p.state = skipCSI
	}
}

// character takes a byte of a character of several bytes.
func (p *parser) character(b byte, to parserEvents) {
	if b < utf8.RuneSelf || utf8.RuneStart(b) {
		p.broken(to)
		if b < utf8.RuneSelf {
			p.next(b, to)
			return
		}
	}
	p.rune = append(p.rune, b)
	if utf8.FullRune(p.rune) {
		r, n := utf8.DecodeRune(p.rune)
		rest := len(p.rune) - n
		p.rune = p.rune[:0]
		to.print(r)
		for range rest {
			to.print(utf8.RuneError)
		}
	}
}

// broken ends a character that was cut short.
func (p *parser) broken(to parserEvents) {
	if len(p.rune) > 0 {
		p.rune = p.rune[:0]
		to.print(utf8.RuneError)
	}
}
