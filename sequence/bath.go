package sequence

// A bath: its parts, its volume, how long it keeps and how much film it serves.

import (
	"strconv"
	"strings"

	"example.org/wetside/chem"
)

// MixtureOf is what a step's bath is made of, "A 1 + B 3 + water 80"; the bath's id
// where the recipe does not say.
func (r *Recipe) MixtureOf(st *Step) string {
	b := r.BathNamed(st.Bath)
	if b == nil || len(b.Parts) == 0 {
		return st.Bath
	}
	var parts []string
	for _, p := range b.Parts {
		parts = append(parts, p.Name+" "+strconv.FormatFloat(p.Parts, 'f', -1, 64))
	}
	return strings.Join(parts, " + ")
}

// MostPerLitre is how many sheets of 20 square inches a litre serves: no more than the table tells by which it
// develops longer; 0 where nobody has said.
func (b *Bath) MostPerLitre() float64 {
	if r := b.Reuse; r != nil && len(r.Table) > 0 && r.Replenish == 0 {
		end := r.Table[len(r.Table)-1][0]
		if b.SheetsPerLitre == 0 || end < b.SheetsPerLitre {
			return end
		}
	}
	return b.SheetsPerLitre
}

// Amounts is how much of each part makes the bath's volume; none where the recipe
// does not say.
func (b *Bath) Amounts() []chem.Amount {
	amounts, err := chem.Mix(b.Parts, b.Volume)
	if err != nil {
		return nil
	}
	return amounts
}

// Bath is one solution and what it is made of.
type Bath struct {
	ID             string           `json:"id"`
	Parts          []chem.Part      `json:"parts,omitzero"`
	Volume         chem.Millilitres `json:"volume_ml,omitzero"`
	StockPerSheet  chem.Millilitres `json:"stock_per_sheet_ml,omitzero"` // least of the first part for 20 square inches
	SheetsPerLitre float64          `json:"sheets_per_litre,omitzero"`   // of 20 square inches each
	WorkingLife    Elapsed          `json:"tray_life_s,omitzero"`        // once mixed
	OneShot        bool             `json:"one_shot,omitzero"`           // for one session, then retired
	Reuse          *chem.Reuse      `json:"reuse,omitzero"`              // how much longer it develops when used again; nil where not said
	Cautions       []string         `json:"cautions,omitzero"`
}
