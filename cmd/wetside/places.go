package main

// Where the user's files are.

import (
	"cmp"
	"os"
	"path/filepath"
	"runtime"

	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// ownRecipes is the folder of the user's recipes; "" where there is no home.
func ownRecipes() string {
	base := os.Getenv("XDG_CONFIG_HOME")
	if !filepath.IsAbs(base) {
		home, err := os.UserHomeDir()
		if err != nil {
			return ""
		}
		base = filepath.Join(home, ".config")
	}
	return filepath.Join(base, "wetside", "recipes")
}

// desk is where this user's readings of densities are.
func desk() notebook.Desk {
	return notebook.Desk{Folder: dataFolder("readings"), Laptop: journal.Default().Laptop}
}

// dataFolder is a folder of what the user keeps; "" where there is no home. A relative
// path in the variable is passed over, as the XDG base directory specification asks.
func dataFolder(name string) string {
	base := os.Getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(base) {
		if base = os.Getenv("LocalAppData"); runtime.GOOS != "windows" || base == "" {
			home, err := os.UserHomeDir()
			if err != nil {
				return ""
			}
			base = filepath.Join(home, ".local", "share")
		}
	}
	return filepath.Join(base, "wetside", name)
}

// laptopName is whose files are written where several laptops share a folder: its name,
// with its mark, since two may be called alike.
func laptopName() string {
	const longest = 30 // of the name, in a file's name
	name, _ := os.Hostname()
	return cmp.Or(name[:min(len(name), longest)], "laptop") + "-" + journal.Default().Laptop
}
