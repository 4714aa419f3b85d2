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

// Around is what draws around the screens where no escape sequence of ours reaches.
type Around string

// The kinds.
const (
	Nothing  Around = ""
	Tmux     Around = "tmux"
	Screen   Around = "screen"  // GNU screen
	OtherMux Around = "another" // one more that shares a terminal
)

// AroundOf is what stands around, as far as environment and answer tell.
func AroundOf(getenv func(string) string, answer string) Around {
	kind := getenv("TERM")
	switch {
	case getenv("TMUX") != "" || strings.Contains(answer, "\x1b[>84;"):
		return Tmux
	case getenv("STY") != "" || strings.Contains(answer, "\x1b[>83;"):
		return Screen
	case strings.HasPrefix(kind, "tmux"):
		return Tmux
	case getenv("ZELLIJ") != "" || strings.HasPrefix(kind, "screen"):
		return OtherMux
	}
	return Nothing
}

// mostThrough is how long a string GNU screen passes on at least.
const mostThrough = 240

// through is a row of operating system commands for the terminal around, passed on as they are
// (tmux(1), allow-passthrough; GNU screen's manual, "Control Sequences", ESC P); nothing
// where that cannot be.
func (a Around) through(commands string) string {
	var b strings.Builder
	switch a {
	case Tmux:
		b.WriteString("\x1bPtmux;" + strings.ReplaceAll(commands, "\x1b", "\x1b\x1b") + "\x1b\\")
	case Screen:
		for one := range strings.SplitSeq(commands, "\x1b\\") {
			for _, part := range divided(one) {
				b.WriteString("\x1bP" + part + "\a\x1b\\")
			}
		}
	}
	return b.String()
}

// divided is a command in parts that are short enough: only that which sets many colours is long.
func divided(command string) (parts []string) {
	const many = "\x1b]4;"
	list, is := strings.CutPrefix(command, many)
	if !is {
		if command != "" {
			parts = []string{command}
		}
		return parts
	}
	words := strings.Split(list, ";")
	part := ""
	for i := 0; i+1 < len(words); i += 2 {
		if part += words[i] + ";" + words[i+1]; len(part) > mostThrough-40 || i+3 >= len(words) {
			parts, part = append(parts, many+part), ""
			continue
		}
		part += ";"
	}
	return parts
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
