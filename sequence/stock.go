package sequence

// Bottles of one part, from which baths are mixed.

import "example.org/wetside/chem"

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
