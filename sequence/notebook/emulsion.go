package notebook

// How the emulsion came through, in the words that a note may use.

import "slices"

// Emulsion is how the gelatin came through a session.
type Emulsion string

// The states of an emulsion. With the wet time beside them they tell what a
// film stands.
const (
	EmulsionSound  Emulsion = "sound"
	EmulsionLifted Emulsion = "edges"  // frilled or lifted at the edges
	EmulsionTorn   Emulsion = "frayed" // scratched or torn inside the picture
)

// Emulsions lists them, the kindest first.
var Emulsions = []Emulsion{EmulsionSound, EmulsionLifted, EmulsionTorn}

// Emulsion is the state last told; "" where nobody did.
func (l Notes) Emulsion() Emulsion {
	for _, n := range slices.Backward(l.List) {
		if n.Emulsion != "" {
			return n.Emulsion
		}
	}
	return ""
}
