package say

// Why an exposed sheet is in no session that is proposed.

import "example.org/wetside/sequence/holders"

// Unplaced is the reason, for after a colon.
func Unplaced(u holders.Unplaced, e *holders.ExposedSheet) string {
	switch u.Code {
	case holders.SameName:
		return "another " + e.Name() + " of this film, exposed before it, waits too: sessions tell sheets apart by name alone, so it goes first"
	case holders.NoRecipe:
		return "no recipe for " + e.Film
	}
	return u.Err.Error()
}
