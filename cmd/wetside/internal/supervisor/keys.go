package supervisor

// Keys as a terminal sends them, for the supervisor, which reads bytes. Names are those of
// the settings.

import (
	"strconv"
	"unicode"
	"unicode/utf8"
)

// keySequences are the keys that are more than a character, as xterm, urxvt and the Linux
// console send them (xterm's ctlseqs, "PC-Style Function Keys"; console_codes(4)).
var keySequences = func() map[string]string {
	keys := map[string]string{"\r": "enter", "\n": "enter", "\t": "tab", "\x7f": "backspace", "\x1b[2~": "insert", "\x1b[3~": "delete",
		"\x1b[1~": "home", "\x1b[7~": "home", "\x1b[H": "home", "\x1bOH": "home", "\x1b[4~": "end", "\x1b[8~": "end", "\x1b[F": "end", "\x1bOF": "end",
		"\x1b[5~": "pgup", "\x1b[6~": "pgdown"}
	for i, name := range []string{"up", "down", "right", "left"} {
		keys["\x1b["+string(rune('A'+i))], keys["\x1bO"+string(rune('A'+i))] = name, name
	}
	for i := range 5 { // of the console; of xterm the first four
		keys["\x1b[["+string(rune('A'+i))] = "f" + strconv.Itoa(i+1)
		if i < 4 {
			keys["\x1bO"+string(rune('P'+i))], keys["\x1b[1;2"+string(rune('P'+i))] = "f"+strconv.Itoa(i+1), "f"+strconv.Itoa(i+13)
		}
	}
	for i, n := range []int{11, 12, 13, 14, 15, 17, 18, 19, 20, 21, 23, 24, 25, 26, 28, 29, 31, 32, 33, 34} {
		keys["\x1b["+strconv.Itoa(n)+"~"] = "f" + strconv.Itoa(i+1)
	}
	for i, n := range []int{15, 17, 18, 19} { // with shift
		keys["\x1b["+strconv.Itoa(n)+";2~"] = "f" + strconv.Itoa(i+17)
	}
	return keys
}()

// decodeKey is the key that sent these bytes, as the screens' library names it; "" where
// they are none, or more than one.
func decodeKey(p []byte) string {
	if name, known := keySequences[string(p)]; known {
		return name
	}
	r, n := utf8.DecodeRune(p)
	switch {
	case n != len(p) || n == 0 || r == utf8.RuneError:
		return ""
	case r >= 1 && r <= 26:
		return "ctrl+" + string('a'+r-1)
	case unicode.IsPrint(r):
		return string(r)
	}
	return ""
}
