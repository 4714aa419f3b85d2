package keyboard

// The sequences that are keys: as xterm, urxvt and the Linux console send them (xterm's
// ctlseqs, "PC-Style Function Keys"; console_codes(4)), and the keyboard protocol that tells
// presses, repeats and releases apart (kitty's "Comprehensive keyboard handling in terminals").

import (
	"strconv"
	"strings"
	"unicode"
)

// sequences are the keys that are more than a character.
var sequences = func() map[string]string {
	keys := map[string]string{"\x00": "ctrl+@", "\r": "enter", "\t": "tab", "\x7f": "backspace", "\x1c": "ctrl+\\", "\x1d": "ctrl+]", "\x1e": "ctrl+^",
		"\x1f": "ctrl+_", "\x1b[Z": "shift+tab", "\x1b[7~": "home", "\x1b[8~": "end",
		"\x1bOM": "enter", "\x1b[7^": "ctrl+home", "\x1b[8^": "ctrl+end", "\x1b[5^": "ctrl+pgup", "\x1b[6^": "ctrl+pgdown"}
	for i := range 26 {
		if c := string(rune(i + 1)); keys[c] == "" {
			keys[c] = "ctrl+" + string(rune('a'+i))
		}
	}
	for final, name := range lettered {
		keys["\x1bO"+string(final)] = name
		if final < 'P' { // f1 to f4 are sent by ESC O alone
			keys["\x1b["+string(final)] = name
		}
	}
	for i := range 5 { // of the console
		keys["\x1b[["+string(rune('A'+i))] = "f" + strconv.Itoa(i+1)
	}
	for n, name := range numbered {
		keys["\x1b["+strconv.Itoa(n)+"~"] = name
	}
	return keys
}()

// lettered are the keys that end in a letter and take modifiers.
var lettered = map[byte]string{'A': "up", 'B': "down", 'C': "right", 'D': "left", 'H': "home", 'F': "end", 'P': "f1", 'Q': "f2", 'R': "f3", 'S': "f4"}

// numbered are those that end in ~.
var numbered = func() map[int]string {
	keys := map[int]string{1: "home", 2: "insert", 3: "delete", 4: "end", 5: "pgup", 6: "pgdown", 7: "home", 8: "end"}
	for i, n := range []int{11, 12, 13, 14, 15, 17, 18, 19, 20, 21, 23, 24, 25, 26, 28, 29, 31, 32, 33, 34} {
		keys[n] = "f" + strconv.Itoa(i+1)
	}
	return keys
}()

// coded are the keys of the open protocol that have a number and are no character.
var coded = map[int]string{9: "tab", 13: "enter", 27: "esc", 127: "backspace", 57414: "enter"}

// Modifiers, as the sequences have them, less one. Those beyond are lock keys.
const (
	shift = 1 << iota
	alt
	ctrl
)

// keyOf is the key of a whole CSI sequence; false where it is none: an answer, a mouse, the focus.
func keyOf(seq string) (e Event, is bool) {
	if name, known := sequences[seq]; known {
		return Event{Key: name}, true
	}
	body, final := seq[2:len(seq)-1], seq[len(seq)-1]
	if strings.Trim(body, "0123456789;:") != "" {
		return e, false
	}
	fields := strings.Split(body, ";")
	code := leading(fields[0])
	mods, what := modifiers(fields)
	name, text := "", ""
	switch {
	case final == '~':
		name = numbered[code]
	case final == 'u':
		name, text = coded[code], associated(fields)
		if name == "" && unicode.IsPrint(rune(code)) {
			name = string(rune(code))
		}
		if name == "" {
			name = text // of the keypad
		}
	case code == 1 && len(fields) == 2 && (final != 'R' || mods > 0): // or the cursor's place, row 1
		name = lettered[final]
	}
	if name == "" {
		return e, false
	}
	return Event{What: what, Key: modified(name, text, mods), Alt: mods&alt != 0}, true
}

// modified is a key's name with its modifiers, as bubbletea has them.
func modified(name, text string, mods int) string {
	n, isFunction := strings.CutPrefix(name, "f")
	switch number, err := strconv.Atoi(n); {
	case isFunction && err == nil:
		if mods&shift != 0 && number <= 8 {
			number += 12
		}
		return "f" + strconv.Itoa(number)
	case mods&ctrl != 0 && mods&shift != 0 && len(name) > 1:
		return "ctrl+shift+" + name
	case mods&ctrl != 0 && name != "esc" && name != "enter" && name != "tab" && name != "backspace":
		return "ctrl+" + name
	case mods&shift != 0 && len(name) > 1 && name != "esc" && name != "enter" && name != "backspace":
		return "shift+" + name
	case text != "":
		return text
	}
	return name
}

// leading is the number at the head of a field, whose parts are divided by colons.
func leading(field string) int {
	first, _, _ := strings.Cut(field, ":")
	n, _ := strconv.Atoi(first)
	return n
}

// modifiers are the second field: the modifiers, and whether it is a press.
func modifiers(fields []string) (mods int, what What) {
	if len(fields) < 2 {
		return 0, Pressed
	}
	_, event, _ := strings.Cut(fields[1], ":")
	switch event {
	case "2":
		what = Repeated
	case "3":
		what = Released
	}
	return max(0, leading(fields[1])-1), what
}

// associated is the third field: the text that the key types.
func associated(fields []string) string {
	if len(fields) < 3 {
		return ""
	}
	text := ""
	for _, code := range strings.Split(fields[2], ":") {
		if n, _ := strconv.Atoi(code); n > 0 && unicode.IsPrint(rune(n)) {
			text += string(rune(n))
		}
	}
	return text
}
