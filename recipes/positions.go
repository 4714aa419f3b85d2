package recipes

// Where each key stands in the file, and in which order. The TOML library
// tells positions of decoding errors only, so the source is walked once more;
// it has been guarded and decoded before, so it is shallow and valid TOML. Whatever the
// walk cannot follow it leaves without a position; it never fails.

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"
)

// position is a line and a column, from 1; zero where not known.
type position struct{ line, col int }

// node is one key, table, array or element of the file. A nil node is one that
// was not found; its methods say "not known".
type node struct {
	from, value, to int // bytes of a key, its value, and the end of both; of a heading, from and to
	at              position
	order           []string         // keys of a table, as they stand in the file
	children        map[string]*node // of a table
	items           []*node          // of an array
}

// child is the node of a key, nil where there is none.
func (n *node) child(key string) *node {
	if n == nil {
		return nil
	}
	return n.children[key]
}

// item is the i-th element, from 0, nil where there is none.
func (n *node) item(i int) *node {
	if n == nil || i >= len(n.items) {
		return nil
	}
	return n.items[i]
}

// keys are a table's keys in the order of the file.
func (n *node) keys() []string {
	if n == nil {
		return nil
	}
	return n.order
}

// ensure returns the node of a key, made at p where it is new.
func (n *node) ensure(key string, p position) *node {
	if k := n.children[key]; k != nil {
		return k
	}
	if n.children == nil {
		n.children = map[string]*node{}
	}
	k := &node{at: p}
	n.children[key] = k
	n.order = append(n.order, key)
	return k
}

// last is the table that a path through n means: n itself, or the newest
// element of an array of tables.
func (n *node) last() *node {
	if len(n.items) > 0 {
		return n.items[len(n.items)-1]
	}
	return n
}

// positions walks the source of a decoded file.
func positions(src []byte) *node {
	s := &tomlScanner{src: src, at: position{1, 1}}
	root := &node{}
	table := root
	for s.skipBlank(); s.i < len(s.src); s.skipBlank() {
		before := s.i
		if s.src[s.i] == '[' {
			table = s.header(root)
		} else {
			s.pair(table)
		}
		if s.i == before {
			s.i++
		}
	}
	return root
}

// tomlScanner is a walk through the source.
type tomlScanner struct {
	src     []byte
	i       int      // next byte
	counted int      // offset up to which at is right
	at      position // of counted
}

// here is the place of the next byte.
func (s *tomlScanner) here() position {
	for ; s.counted < min(s.i, len(s.src)); s.counted++ {
		switch c := s.src[s.counted]; {
		case c == '\n':
			s.at = position{s.at.line + 1, 1}
		case utf8.RuneStart(c):
			s.at.col++
		}
	}
	return s.at
}

// header reads [a.b] or [[a.b]] and returns the table that it opens.
func (s *tomlScanner) header(root *node) *node {
	p, from := s.here(), s.i
	s.i++
	array := s.peek() == '['
	if array {
		s.i++
	}
	n := root
	for _, k := range s.key() {
		n = n.last().ensure(k.name, p)
	}
	s.take(']')
	if array {
		s.take(']')
		n.items = append(n.items, &node{at: p})
	}
	n = n.last()
	n.at, n.from, n.to = p, from, s.i
	return n
}

// pair reads key = value into table.
func (s *tomlScanner) pair(table *node) {
	n, from := table, s.i
	for _, k := range s.key() {
		n = n.ensure(k.name, k.at)
	}
	if s.take('=') {
		s.blank()
		value := s.i
		s.value(n)
		n.from, n.value, n.to = from, value, value+len(bytes.TrimRight(s.src[value:s.i], " \t\r"))
	}
}

// keyPart is one name of a dotted key.
type keyPart struct {
	name string
	at   position
}

// key reads a dotted key.
func (s *tomlScanner) key() []keyPart {
	var parts []keyPart
	for {
		s.blank()
		at, from := s.here(), s.i
		switch c := s.peek(); {
		case c == '"' || c == '\'':
			s.i = skipString(s.src, s.i)
			parts = append(parts, keyPart{unquoted(s.src[from:s.i]), at})
		default:
			for isBare(s.peek()) {
				s.i++
			}
			if s.i == from {
				return parts
			}
			parts = append(parts, keyPart{string(s.src[from:s.i]), at})
		}
		if !s.take('.') {
			return parts
		}
	}
}

// unquoted is the text of a quoted key, whatever escapes it holds.
func unquoted(quoted []byte) string {
	s := string(quoted[1:max(1, len(quoted)-1)])
	if quoted[0] == '\'' || !strings.Contains(s, `\`) {
		return s
	}
	var b strings.Builder
	for s != "" {
		if rest, found := strings.CutPrefix(s, `\e`); found { // TOML has it, Go has not
			b.WriteByte(0x1b)
			s = rest
			continue
		}
		r, _, rest, err := strconv.UnquoteChar(s, '"')
		if err != nil {
			return ""
		}
		b.WriteRune(r)
		s = rest
	}
	return b.String()
}

// value reads a value; n gets what stands inside it.
func (s *tomlScanner) value(n *node) {
	switch s.peek() {
	case '"', '\'':
		s.i = skipString(s.src, s.i)
	case '[', '{':
		s.nested(n)
	default:
		for s.i < len(s.src) && !strings.ContainsRune(",]}#\n", rune(s.src[s.i])) {
			s.i++
		}
	}
}

// nested reads an array or an inline table.
func (s *tomlScanner) nested(n *node) {
	array := s.peek() == '['
	closing := byte('}')
	if array {
		closing = ']'
	}
	for s.i++; ; {
		s.skipBlank()
		if s.i >= len(s.src) || s.take(closing) {
			return
		}
		before := s.i
		if array {
			el := &node{at: s.here()}
			n.items = append(n.items, el)
			s.value(el)
		} else {
			s.pair(n)
		}
		s.skipBlank()
		if !s.take(',') && s.i == before {
			s.i++
		}
	}
}

// peek is the next byte, 0 at the end.
func (s *tomlScanner) peek() byte {
	if s.i >= len(s.src) {
		return 0
	}
	return s.src[s.i]
}

// take passes over blanks and then c, and tells whether c was there.
func (s *tomlScanner) take(c byte) bool {
	s.blank()
	if s.peek() != c {
		return false
	}
	s.i++
	return true
}

// blank passes over spaces and tabs.
func (s *tomlScanner) blank() {
	for c := s.peek(); c == ' ' || c == '\t'; c = s.peek() {
		s.i++
	}
}

// skipBlank passes over spaces, line ends and comments.
func (s *tomlScanner) skipBlank() {
	for {
		switch s.peek() {
		case ' ', '\t', '\r', '\n':
			s.i++
		case '#':
			s.i = skipComment(s.src, s.i)
		default:
			return
		}
	}
}

// isBare tells whether c may stand in a key without quotes.
func isBare(c byte) bool {
	return c == '_' || c == '-' || '0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z'
}
