package recipes

// What is refused before the TOML library sees a file: too large, not UTF-8,
// nested too deep. The library's time grows steeply with nesting: 40 KB of
// dotted keys have cost it 20 s.

import (
	"bytes"
	"fmt"
	"strconv"
	"unicode/utf8"
)

const (
	maxFileSize = 64 << 10 // bytes
	maxBrackets = 8        // open at once
	maxDots     = 8        // in one key
)

// prescan returns what makes src unfit for decoding, nil where nothing does.
func prescan(file string, src []byte) Faults {
	if len(src) > maxFileSize {
		return Faults{tooLarge(file, strconv.Itoa(len(src)))}
	}
	if i := firstInvalid(src); i >= 0 {
		line, col := lineCol(src, i)
		return Faults{{File: file, Line: line, Col: col, What: fmt.Sprintf("byte 0x%02x is not UTF-8", src[i]),
			Expected: "a text file in UTF-8"}}
	}
	return checkNesting(file, src)
}

// firstInvalid is the offset of the first byte that is not UTF-8, or -1.
func firstInvalid(src []byte) int {
	for i := 0; i < len(src); {
		r, width := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && width == 1 {
			return i
		}
		i += width
	}
	return -1
}

// checkNesting refuses more brackets or dots than any recipe needs. Strings and
// comments do not count.
func checkNesting(file string, src []byte) Faults {
	refuse := func(i int, what, expected string) Faults {
		line, col := lineCol(src, i)
		return Faults{{File: file, Line: line, Col: col, What: what, Expected: expected}}
	}
	open, dots := 0, 0
	for i := 0; i < len(src); {
		switch src[i] {
		case '#':
			i = skipComment(src, i)
			continue
		case '"', '\'':
			i = skipString(src, i)
			continue
		case '[', '{':
			open++
			dots = 0
		case ']', '}':
			open = max(0, open-1)
			dots = 0
		case '\n', '=', ',':
			dots = 0
		case '.':
			dots++
		}
		if open > maxBrackets {
			return refuse(i, "nested too deep", "at most 8 brackets open at once")
		}
		if dots > maxDots {
			return refuse(i, "the key has too many dots", "at most 8")
		}
		i++
	}
	return nil
}

// skipComment returns the offset of the line end that closes the comment at i.
func skipComment(src []byte, i int) int {
	if n := bytes.IndexByte(src[i:], '\n'); n >= 0 {
		return i + n
	}
	return len(src)
}

// skipString returns the offset behind the string that opens at i, of any of
// TOML's four kinds. An unclosed one ends with its line, or with the file.
func skipString(src []byte, i int) int {
	q := src[i]
	if bytes.HasPrefix(src[i:], []byte{q, q, q}) {
		return skipLongString(src, i+3, q)
	}
	for i++; i < len(src); i++ {
		switch {
		case src[i] == '\n':
			return i
		case src[i] == '\\' && q == '"':
			if i+1 < len(src) && src[i+1] != '\n' {
				i++
			}
		case src[i] == q:
			return i + 1
		}
	}
	return len(src)
}

// skipLongString does the same inside a string of three quotes; up to two more
// quotes may stand right before the closing three.
func skipLongString(src []byte, i int, q byte) int {
	for ; i < len(src); i++ {
		if src[i] == '\\' && q == '"' {
			i++
			continue
		}
		if !bytes.HasPrefix(src[i:], []byte{q, q, q}) {
			continue
		}
		i += 3
		for extra := 0; extra < 2 && i < len(src) && src[i] == q; extra++ {
			i++
		}
		return i
	}
	return len(src)
}

// lineCol is the line and the column, in characters, of the byte at offset i,
// both from 1.
func lineCol(src []byte, i int) (line, col int) {
	i = min(max(i, 0), len(src))
	start := bytes.LastIndexByte(src[:i], '\n') + 1
	return bytes.Count(src[:i], []byte{'\n'}) + 1, utf8.RuneCount(src[start:i]) + 1
}
