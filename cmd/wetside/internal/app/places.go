package app

// Where the user's files are.

import (
	"cmp"
	"os"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/places"
	"example.org/wetside/tui/room"
)

// RecipesFolder is the folder of the user's recipes; "" where there is no home.
func RecipesFolder() string { return places.Config("recipes") }

// Densities is where this user's readings of densities are.
func Densities() densities.Store {
	return densities.Store{Folder: places.Data("readings"), Laptop: journal.Default().Laptop}
}

// Session is one of this user's sessions, for readings that name it.
func Session(id string) (notebook.Session, error) { return notebook.Open(journal.Default(), id) }

// OwnSessions is what this user's sessions tell of the scatter between them, those named left out; nil
// where they are too few.
func OwnSessions(except ...string) *curve.OwnSessions {
	return Densities().ScatterOfSessions(journal.Default(), except...)
}

// SessionScatter is OwnSessions for a plan.
func SessionScatter() *sequence.SessionScatter {
	if own := OwnSessions(); own != nil {
		return &sequence.SessionScatter{Gradient: own.Value, Sessions: own.Sessions}
	}
	return nil
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
	return bottles.Ledger{Folder: places.Data("baths"), Laptop: laptopID()}
}

// Films is where what is known of films lies.
func Films() film.Sources {
	return film.Sources{Sessions: journal.Default(), Densities: Densities(), Borrowed: film.BorrowedStore{Folder: places.Data("films"), Laptop: laptopID()}}
}

// Learnt is what a session taught of its film's time; nil for nothing.
func Learnt(id string) *film.Learnt {
	s, err := notebook.Open(journal.Default(), id)
	if err != nil {
		return nil
	}
	return Films().Learnt(&s)
}

// LampsFolder is where the computer's lamps are.
var LampsFolder = room.SysClass

// ExposedSheetLists is where the lists of this user are.
func ExposedSheetLists() holders.SheetStore {
	return holders.SheetStore{Folder: places.Data("sheets"), Laptop: laptopID()}
}
