package sequence

// Bottles of one part, from which baths are mixed.

import (
	"fmt"

	"example.org/wetside/chem"
)

// Stock is a bottle of one part, as it was when the plan was made.
type Stock struct {
	Part   string           `json:"part"`
	Bottle string           `json:"bottle"` // what is written on it
	Left   chem.Millilitres `json:"left_ml"`
	Opened chem.Millilitres `json:"of_ml"` // what it held when it was opened
}

// Withdrawal is what a part of one bath takes from one bottle. Where all bottles of the part
// together do not suffice the last one has what is lacking.
type Withdrawal struct {
	Bath, Part, Bottle string
	Volume             chem.Millilitres
	Left               chem.Millilitres // in the bottle, before
	Short              chem.Millilitres // 0 where there is enough
}

// Describe is a draw in words: "A: 23.8 ml of the 116 ml in stock-a".
func (d Withdrawal) Describe(h Units) string {
	line := fmt.Sprintf("%s: %s of the %s in %s", d.Part, h.Volume(d.Volume), h.Volume(d.Left), d.Bottle)
	if d.Short > 0 {
		line += ", SHORT by " + h.Volume(d.Short)
	}
	return line
}
