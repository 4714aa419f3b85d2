package say

// Which notes of a plan are read where, and in how many words.

import (
	"slices"

	"example.org/wetside/sequence"
)

// ForMixing reports whether a note is read where baths are mixed, and of no use before.
func ForMixing(c sequence.Caution) bool {
	return c.Level == sequence.Note && slices.Contains([]string{"chemistry", "mixing-order", "eye-rinse", "labels", "no-food"}, c.Code)
}
