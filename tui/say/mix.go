package say

// What to mix: how much of each part makes a bath.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// Amounts is how much of each part makes a bath's volume: "A 23.8 ml + B 47.6 ml + water 1429 ml".
func Amounts(b sequence.Bath, u sequence.Units) string {
	if b.Volume == 0 {
		return "as usual"
	}
	var parts []string
	for _, a := range b.Amounts() {
		parts = append(parts, safetext.Clean(a.Name)+" "+u.Volume(a.Volume))
	}
	if len(parts) == 0 {
		return u.Volume(b.Volume)
	}
	return strings.Join(parts, " + ")
}
