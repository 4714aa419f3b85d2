package sequence

// A mixed bath that stands ready in a bottle, as a plan knows it.

import (
	"time"

	"example.org/wetside/chem"
)

// OpenBottle is a bath that stands ready in a bottle, as it was when the plan was made.
type OpenBottle struct {
	Bath           string           `json:"bath"`   // id of the recipe's bath that it serves as
	Bottle         string           `json:"bottle"` // what is written on it
	Age            Elapsed          `json:"age_s"`  // since it was mixed; negative where the clock was set back
	WorkingLife    Elapsed          `json:"keeps_s,omitzero"`
	Volume         chem.Millilitres `json:"volume_ml,omitzero"`
	SheetsPerLitre float64          `json:"sheets_per_litre,omitzero"` // of 20 square inches each
	SheetsDone     float64          `json:"done_sheets,omitzero"`      // sheets of 20 square inches that it has processed
	FreshClearing  Elapsed          `json:"fresh_clearing_s,omitzero"` // clearing time before its first use; 0 where not known
	Clearing       Elapsed          `json:"clearing_s,omitzero"`       // the last one measured; both as at 20 °C
	ClearedSheets  float64          `json:"cleared_sheets,omitzero"`   // that it had processed by then
	Replenished    chem.Millilitres `json:"replenished_ml,omitzero"`   // replenisher that was added so far
	SilverLeft     bool             `json:"silver_left,omitzero"`      // the last film fixed in it failed the residual silver test
}

// LongestClearing is when a clearing test is given up: such a fixer is of no use (our
// own rule).
const LongestClearing = 10 * time.Minute

// Capacity is how many sheets of 20 square inches the bath takes in all; false where
// nobody has said.
func (k OpenBottle) Capacity() (float64, bool) {
	return float64(k.Volume) / 1000 * k.SheetsPerLitre, k.Volume > 0 && k.SheetsPerLitre > 0
}

// CapacityByClearing is how many sheets of 20 square inches the fixer takes in all by its clearing times; false
// where they do not tell.
func (k OpenBottle) CapacityByClearing() (float64, bool) {
	return chem.AreaByClearing(k.FreshClearing, k.Clearing, k.ClearedSheets)
}

// OpenBottle is the bottle that serves as a bath; false where it is mixed fresh.
func (p *Plan) OpenBottle(bath string) (OpenBottle, bool) {
	for _, k := range p.Conditions.OpenBottles {
		if k.Bath == bath {
			return k, true
		}
	}
	return OpenBottle{}, false
}
