package notebook

// How negatives look, in the words that a note may use.

import "slices"

// Appearance is how negatives look.
type Appearance string

// The looks that can be noted.
const (
	Good      Appearance = "good"
	Thin      Appearance = "thin"
	Dense     Appearance = "dense"
	Fogged    Appearance = "fogged"
	Uneven    Appearance = "uneven"
	Scratched Appearance = "scratched"
)

// Appearances lists them.
var Appearances = []Appearance{Good, Thin, Dense, Fogged, Uneven, Scratched}

// Appearances is how the negatives looked as last told; nil where nobody did.
func (l Notes) Appearances() []Appearance {
	for _, n := range slices.Backward(l.List) {
		if len(n.Appearances) > 0 {
			return n.Appearances
		}
	}
	return nil
}
