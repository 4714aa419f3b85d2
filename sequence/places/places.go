// Package places is where wetside's files lie, as the XDG base directory specification has it:
// settings and recipes, what the person keeps, the sessions. It also makes a file's name of a title.
//
// For every room that opens files of the person's. It opens and makes none itself; "" stands for
// a place that is not known since there is no home.
package places

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"unicode/utf8"
)

// Config is a file or folder of the settings: config.toml, recipes.
func Config(name string) string { return under("XDG_CONFIG_HOME", "", ".config", name) }

// Data is a folder of what the person keeps: readings, bottles, holders.
func Data(name string) string { return under("XDG_DATA_HOME", "LocalAppData", ".local/share", name) }

// State is the folder of what happened: sessions.
func State(name string) string { return under("XDG_STATE_HOME", "LocalAppData", ".local/state", name) }

// under is a name in wetside's folder below the first base that is known: the variable's, where it is
// absolute (the specification passes over a relative one), that of Windows, the home's.
func under(variable, windows, home, name string) string {
	base := os.Getenv(variable)
	if !filepath.IsAbs(base) {
		base = ""
		if windows != "" && runtime.GOOS == "windows" {
			base = os.Getenv(windows)
		}
	}
	if base == "" {
		folder, err := os.UserHomeDir()
		if err != nil {
			return ""
		}
		base = filepath.Join(folder, filepath.FromSlash(home))
	}
	return filepath.Join(base, "wetside", name)
}

// Slug is a title as a part of a file's name: its ASCII letters and digits in lower case, a hyphen
// for what is between them, at most longest bytes. "" where the title has neither.
func Slug(title string, longest int) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	name := strings.Join(words, "-")
	name = strings.Trim(name[:min(len(name), longest)], "-")
	if IsDevice(name) {
		name += "-"
	}
	return name
}

// IsDevice tells whether Windows takes a file of this name for a device, whatever follows its
// first dot: what is written there is gone (Microsoft, "Naming Files, Paths, and Namespaces").
// Folders are shared between systems, so no system has files of such names.
func IsDevice(name string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	switch stem = strings.TrimRight(stem, " "); stem {
	case "con", "prn", "aux", "nul", "conin$", "conout$":
		return true
	}
	kind, port := stem[:min(3, len(stem))], stem[min(3, len(stem)):]
	return (kind == "com" || kind == "lpt") && utf8.RuneCountInString(port) == 1 && strings.Contains("123456789¹²³", port)
}
