package settings

// Keys by the names that a terminal's programs give them.

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// namedKeys are the keys that no character stands for. What a terminal cannot send,
// such as media keys and the release of a key, is not among them.
var namedKeys = []string{"space", "enter", "tab", "backspace", "delete", "insert", "home", "end", "pgup", "pgdown",
	"up", "down", "left", "right"}

// maxFunctionKey is the last function key that a terminal can send.
const maxFunctionKey = 20

// validKey tells whether a name is that of a key.
func validKey(name string) bool {
	if slices.Contains(namedKeys, name) {
		return true
	}
	if n, isF := strings.CutPrefix(name, "f"); isF && n != "" {
		i, err := strconv.Atoi(n)
		return err == nil && i >= 1 && i <= maxFunctionKey && n == strconv.Itoa(i)
	}
	if c, isCtrl := strings.CutPrefix(name, "ctrl+"); isCtrl {
		return len(c) == 1 && c[0] >= 'a' && c[0] <= 'z'
	}
	r, n := utf8.DecodeRuneInString(name)
	return name != "" && n == len(name) && r > ' ' && unicode.IsGraphic(r)
}

// libraryKey is the key as the screens' library names it.
func libraryKey(name string) string {
	if name == "space" {
		return " "
	}
	return name
}

// KeyNames are keys as they are written in the file.
func KeyNames(keys []string) []string {
	names := make([]string, len(keys))
	for i, k := range keys {
		if names[i] = k; k == " " {
			names[i] = "space"
		}
	}
	return names
}

func quote(s string) string { return strconv.Quote(s) }
