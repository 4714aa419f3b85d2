package recipes

// Text from outside, made fit for a terminal: one line, no character that
// moves the cursor, hides text or turns its direction.

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestText is the most characters that Clean lets through.
const longestText = 1000

// Clean returns s as one line that a terminal can show safely. Control
// characters (C0, DEL, C1), line and paragraph separators, format and bidi
// characters, private and unassigned code points and invalid UTF-8 each become
// U+FFFD. More than 1000 characters are cut, and the cut is marked by "…".
// Newlines are replaced too: split a text of several lines before calling it.
func Clean(s string) string {
	var b strings.Builder
	count := 0
	for i, r := range s {
		if count == longestText {
			b.WriteRune('…')
			break
		}
		count++
		if unsafe(s, i, r) {
			r = utf8.RuneError
		}
		b.WriteRune(r)
	}
	return b.String()
}

// unsafeAt finds the first character of s that Clean would replace; ok is
// false where there is none.
func unsafeAt(s string) (r rune, ok bool) {
	for i, r := range s {
		if unsafe(s, i, r) {
			return r, true
		}
	}
	return 0, false
}

// unsafe tells whether the character r, found at byte i of s, must not reach
// a terminal. A U+FFFD that was really written in s is harmless.
func unsafe(s string, i int, r rune) bool {
	if r == utf8.RuneError {
		_, width := utf8.DecodeRuneInString(s[i:])
		return width == 1
	}
	return !unicode.IsGraphic(r)
}
