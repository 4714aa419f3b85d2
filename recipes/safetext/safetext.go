// Package safetext makes text from outside fit for a terminal: one line, no character that
// moves the cursor, hides text or turns its direction.
//
// For whoever shows a name, a title or an error. Start with Clean. It changes no text that is
// written to a file.
package safetext

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxText is the most characters that Clean lets through.
const MaxText = 1000

// Clean returns s as one line that a terminal can show safely. Control
// characters (C0, DEL, C1), line and paragraph separators, format and bidi
// characters, private and unassigned code points and invalid UTF-8 each become
// U+FFFD. More than 1000 characters are cut, and the cut is marked by "…".
// Newlines are replaced too: split a text of several lines before calling it.
func Clean(s string) string {
	var b strings.Builder
	count := 0
	for _, r := range s { // a byte that is not UTF-8 comes as U+FFFD
		if count == MaxText {
			b.WriteRune('…')
			break
		}
		count++
		if isUnsafe(r) {
			r = utf8.RuneError
		}
		b.WriteRune(r)
	}
	return b.String()
}

// FindUnsafe finds the first character that Clean would replace in s, which is
// UTF-8; ok is false where there is none.
func FindUnsafe(s string) (r rune, ok bool) {
	for _, r := range s {
		if isUnsafe(r) {
			return r, true
		}
	}
	return 0, false
}

// isUnsafe tells whether the character r must not reach a terminal.
func isUnsafe(r rune) bool { return !unicode.IsGraphic(r) }
