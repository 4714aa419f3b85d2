package sequence

// A change that would shorten the wet time, with its price.

import (
	"strings"

	"example.org/wetside/chem"
)

// Shortening is a change that would shorten the wet time, or a combination of them.
type Shortening struct {
	Saves   Elapsed          `json:"saves_s"`  // of the longest wet time
	Margin  *Elapsed         `json:"margin_s"` // that it leaves; nil where no limit is known
	Code    string           `json:"code"`
	Step    string           `json:"step"`                   // the step changed; "" for the whole load
	Text    string           `json:"text"`                   // temperatures in Celsius
	WarmTo  *chem.Celsius    `json:"temperature_c,omitzero"` // that the developer is warmed to; nil where it is not
	Price   string           `json:"price"`                  // what it costs
	Caution string           `json:"caution,omitzero"`       // what to watch for
	Parts   []ShorteningPart `json:"parts,omitzero"`         // of a combination: its single changes, in order
}

// TextFor is the text with its temperature on a person's scale.
func (s Shortening) TextFor(h Units) string {
	if s.WarmTo == nil {
		return s.Text
	}
	return strings.Replace(s.Text, Units{}.Temperature(*s.WarmTo), h.Temperature(*s.WarmTo), 1)
}

// ShorteningPart names one change of a combination.
type ShorteningPart struct {
	Code string `json:"code"`
	Step string `json:"step"`
}
