package light

// What the terminal is asked, and how its answers are read.

import "strings"

// questions: which background (OSC 11), which terminal (secondary device attributes: 83 is GNU
// screen's number, 84 tmux's), whether it tells presses from releases (kitty's keyboard
// protocol), and the device attributes that every terminal has.
const questions = "\x1b]11;?\x1b\\\x1b[>c\x1b[?u\x1b[c"

// Keys told apart: no key is ambiguous, events have types, text keys are told so too, with
// their text (flags 1, 2, 8 and 16 of kitty's keyboard protocol).
const (
	tellKeys  = "\x1b[>27u"
	tellNoKey = "\x1b[<u"
)

// hasDeviceAttributes tells whether the terminal said who it is: CSI ? … c.
func hasDeviceAttributes(answer string) bool { return hasReply(answer, "\x1b[?", 'c') }

// tellsReleases tells whether it said that it can tell: CSI ? flags u.
func tellsReleases(answer string) bool { return hasReply(answer, "\x1b[?", 'u') }

// hasReply tells whether there is a reply of numbers between this and that.
func hasReply(answer, from string, to byte) bool {
	for {
		_, rest, found := strings.Cut(answer, from)
		if !found {
			return false
		}
		if end := strings.TrimLeft(rest, "0123456789;"); end != "" && end[0] == to {
			return true
		}
		answer = rest
	}
}

// hasBackground tells whether the background was told.
func hasBackground(answer string) bool {
	_, rest, found := strings.Cut(answer, "\x1b]11;")
	return found && strings.ContainsAny(rest, "\a\x1b")
}

// isBlack reads the answer to "which background": rgb:R/G/B in one to four
// hexadecimal digits each, perhaps rgba.
func isBlack(answer string) bool {
	_, value, found := strings.Cut(answer, "\x1b]11;rgb")
	value, _, ended := strings.Cut(value, "\x1b")
	if short, _, bell := strings.Cut(value, "\a"); bell {
		value, ended = short, true
	}
	_, value, colon := strings.Cut(value, ":")
	parts := strings.Split(value, "/")
	if !found || !ended || !colon || len(parts) < 3 {
		return false
	}
	for _, part := range parts[:3] {
		if part == "" || strings.Trim(part, "0") != "" {
			return false
		}
	}
	return true
}
