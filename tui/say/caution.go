package say

// Which notes of a plan are read where, and in how many words.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// ForMixing reports whether a note is read where baths are mixed, and of no use before.
func ForMixing(c sequence.Caution) bool {
	return c.Level == sequence.Note && (c.Code == "chemistry" || c.Code == "mixing-order" || slices.Contains(planning.Workplace(), c.Text))
}
