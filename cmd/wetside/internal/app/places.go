package app

// Where the user's files are.

import (
	"cmp"
	"os"
	"path/filepath"
	"runtime"

	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/room"
)

// RecipesFolder is the folder of the user's recipes; "" where there is no home.
func RecipesFolder() string {
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

// Densities is where this user's readings of densities are.
func Densities() densities.Store {
	return densities.Store{Folder: DataFolder("readings"), Laptop: journal.Default().Laptop}
}

// DataFolder is a folder of what the user keeps; "" where there is no home. A relative
// path in the variable is passed over, as the XDG base directory specification asks.
func DataFolder(name string) string {
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

// laptopID is whose files are written where several laptops share a folder: its name,
// with its mark, since two may be called alike.
func laptopID() string {
	const longest = 30 // of the name, in a file's name
	name, _ := os.Hostname()
	return cmp.Or(name[:min(len(name), longest)], "laptop") + "-" + journal.Default().Laptop
}

// BottleLedger is this laptop's.
func BottleLedger() bottles.Ledger {
	return bottles.Ledger{Folder: DataFolder("baths"), Laptop: laptopID()}
}

// LampsFolder is where the computer's lamps are.
var LampsFolder = room.SysClass

// ExposedSheetLists is where the lists of this user are.
func ExposedSheetLists() holders.SheetStore {
	return holders.SheetStore{Folder: DataFolder("sheets"), Laptop: laptopID()}
}
