package light

// What shares the terminal: tmux, GNU screen and others, recognised and written through.

import (
	"slices"
	"strings"
)

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

// coloursThrough is how many colours one string sets, of 17 bytes each: GNU screen passes on
// strings of 240 bytes at least.
const coloursThrough = 12

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
	for some := range slices.Chunk(strings.Split(list, ";"), 2*coloursThrough) {
		parts = append(parts, many+strings.Join(some, ";"))
	}
	return parts
}
