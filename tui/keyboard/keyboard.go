// Package keyboard makes of what a terminal sends keys, pastes and nothing else: answers to
// questions, late and in whatever order, are recognised and dropped.
//
// A Parser takes bytes and holds no clock; a Reader reads a terminal and tells when it has
// been quiet. Names of keys are those of bubbletea, which the settings use too. Start with
// Parser, or with NewReader.
package keyboard

import (
	"bytes"
	"time"
	"unicode"
	"unicode/utf8"

	"example.org/wetside/tui/press"
)

// What is what came.
type What int

// The kinds of event.
const (
	Pressed  What = iota // a key; a repeat too where the terminal does not tell it from a press
	Repeated             // a key that is held down, as the terminal says
	Released             // a key was let go: only some terminals say so
	Pasted               // text
	Quiet                // no key for Silence: from a Reader alone
)

// Event is one thing that was typed.
type Event struct {
	What What
	Key  string // its name, "" for a paste; without alt+
	Alt  bool
	Text string // what was pasted
}

// Silence is how long no key must have come for a Reader to tell that it is quiet.
const Silence = press.Silence

// How long what is not whole yet is waited for.
const (
	escapeWait = 25 * time.Millisecond  // for what follows an escape, which may be a key by itself
	answerWait = 500 * time.Millisecond // for the rest of an answer
	pasteWait  = 300 * time.Millisecond // for the rest of a paste
)

// typedAtOnce is how many bytes at most are read together of what is typed: two keys.
const typedAtOnce = 8

// Bounds of what is kept of an answer and of a paste; what is longer is dropped.
const (
	longestAnswer = 1 << 14
	longestPaste  = 1 << 16
)

// Parser holds what is not whole yet. Its zero value has seen nothing.
type Parser struct {
	held    []byte
	pasting bool
	pasted  []byte
	cut     bool // a paste was given up: its end may come yet, and more of it before
}

// Around a paste (xterm's ctlseqs, "Bracketed Paste Mode").
var pasteBegin, pasteEnd = []byte("\x1b[200~"), []byte("\x1b[201~")

// Feed takes bytes and gives what they come to.
func (p *Parser) Feed(b []byte) (list []Event) {
	p.pasting = p.pasting || p.cut && goesOn(b)
	p.held = append(p.held, b...)
	for len(p.held) > 0 {
		if p.pasting {
			if !p.takePaste(&list) {
				return list
			}
			continue
		}
		n, e, is := p.next()
		if n == 0 {
			return list
		}
		p.held = p.held[n:]
		if is {
			list = append(list, e)
		}
	}
	p.held = nil
	return list
}

// goesOn tells that a read is the rest of a paste that halted for longer than pasteWait, as a
// busy machine and a slow line have it: more than hands type at once, or what its end follows.
func goesOn(b []byte) bool {
	if end := bytes.Index(b, pasteEnd); end >= 0 {
		return !bytes.Contains(b[:end], pasteBegin)
	}
	return len(b) > typedAtOnce && b[0] != esc
}

// takePaste takes up to the end of a paste; false where that has not come.
func (p *Parser) takePaste(list *[]Event) bool {
	at := bytes.Index(p.held, pasteEnd)
	if at < 0 {
		keep := min(len(p.held), len(pasteEnd)-1) // it may hold the head of the end
		p.keepPaste(p.held[:len(p.held)-keep])
		p.held = p.held[len(p.held)-keep:]
		return false
	}
	p.keepPaste(p.held[:at])
	p.held = p.held[at+len(pasteEnd):]
	*list = append(*list, p.endPaste())
	return true
}

func (p *Parser) keepPaste(b []byte) {
	p.pasted = append(p.pasted, b[:min(len(b), longestPaste-len(p.pasted))]...)
}

func (p *Parser) endPaste() Event {
	e := Event{What: Pasted, Text: string(bytes.ToValidUTF8(p.pasted, nil))}
	p.pasting, p.pasted, p.cut = false, nil, false
	return e
}

// Wait is how long silence may last before what is held is given up; 0 where nothing is held.
func (p *Parser) Wait() time.Duration {
	switch {
	case p.pasting:
		return pasteWait
	case len(p.held) == 0:
		return 0
	case len(p.held) >= 2 && p.held[0] == esc && (p.held[1] == '[' || isString(p.held[1])):
		return answerWait
	}
	return escapeWait
}

// GiveUp gives what is held when nothing has come for Wait: an escape by itself is the key, a
// paste without an end is over, the head of an answer is dropped.
func (p *Parser) GiveUp() (list []Event) {
	switch held := p.held; {
	case p.pasting:
		p.keepPaste(held)
		list = []Event{p.endPaste()}
		p.cut = true
	case len(held) == 1 && held[0] == esc:
		list = []Event{{Key: "esc"}}
	case len(held) == 2 && held[0] == esc:
		list = []Event{{Key: string(rune(held[1])), Alt: true}}
	}
	p.held = nil
	return list
}

const esc = 0x1b

// isString tells whether ESC and this begin a string, which has an end of its own: DCS, SOS,
// OSC, PM, APC (ECMA-48, 5.6).
func isString(c byte) bool { return bytes.IndexByte([]byte("PX]^_"), c) >= 0 }

// next is the first thing held: how long it is, 0 while it is not whole; is tells whether it
// is a key, or else something to drop.
func (p *Parser) next() (n int, e Event, is bool) {
	b := p.held
	if b[0] != esc {
		return character(b)
	}
	if len(b) == 1 {
		return 0, e, false
	}
	switch c := b[1]; {
	case c == esc:
		return 1, Event{Key: "esc"}, true
	case c == '[':
		return p.control()
	case c == 'O':
		if len(b) == 2 {
			return 0, e, false
		}
		if name, known := sequences[string(b[:3])]; known {
			return 3, Event{Key: name}, true
		}
		return 3, e, false
	case isString(c):
		return p.answer(), e, false
	}
	n, e, is = character(b[1:])
	if n == 0 {
		return 0, e, false
	}
	e.Alt = true
	return n + 1, e, is
}

// character is a key that is no sequence.
func character(b []byte) (n int, e Event, is bool) {
	if !utf8.FullRune(b) {
		return 0, e, false
	}
	r, n := utf8.DecodeRune(b)
	if name, known := sequences[string(b[:n])]; known {
		return n, Event{Key: name}, true
	}
	return n, Event{Key: string(r)}, unicode.IsPrint(r) && (r != utf8.RuneError || n > 1)
}

// answer is how long a string is, 0 while it is not whole. A control character that none
// has in it, or another escape, cuts it off.
func (p *Parser) answer() int {
	for i := 2; i < len(p.held); i++ {
		switch c := p.held[i]; {
		case c == '\a':
			return i + 1
		case c == esc && i+1 == len(p.held):
			return 0
		case c == esc && p.held[i+1] == '\\':
			return i + 2
		case c < ' ':
			return i
		}
	}
	if len(p.held) > longestAnswer {
		p.held = append(p.held[:2:2], "…"...) // still within it: what follows is dropped as well
	}
	return 0
}

// control is a sequence that begins with CSI (ECMA-48, 5.4).
func (p *Parser) control() (n int, e Event, is bool) {
	b := p.held
	i := 2
	if i < len(b) && b[i] == '[' { // the console's function keys
		if i++; i == len(b) {
			return 0, e, false
		}
		name, known := sequences[string(b[:i+1])]
		return i + 1, Event{Key: name}, known
	}
	for i < len(b) && b[i] >= 0x20 && b[i] < 0x40 && i < longestAnswer {
		i++
	}
	switch {
	case i == len(b):
		return 0, e, false
	case b[i] < 0x40 || b[i] > 0x7e:
		return i, e, false // cut off
	}
	seq := string(b[:i+1])
	if seq == string(pasteBegin) {
		p.pasting = true
		return i + 1, e, false
	}
	e, is = keyOf(seq)
	return i + 1, e, is
}
