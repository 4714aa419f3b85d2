package say

import (
	"errors"
	"testing"

	"example.org/wetside/sequence/holders"
)

func TestUnplaced(t *testing.T) {
	e := &holders.ExposedSheet{Holder: "1", Side: "A", Film: "Curlew 400"}
	same(t, Unplaced(holders.Unplaced{Code: holders.NoRecipe}, e), "no recipe for Curlew 400")
	same(t, Unplaced(holders.Unplaced{Code: holders.SameName}, e), "another 1A of this film, exposed before it, waits too: sessions tell sheets apart by name alone, so it goes first")
	same(t, Unplaced(holders.Unplaced{Err: errors.New("1A: it cannot be had")}, e), "1A: it cannot be had")
}
