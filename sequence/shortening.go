package sequence

// A change that would shorten the wet time, with its price.

import "example.org/wetside/chem"

// Shortening is a change that would shorten the wet time, or a combination of them.
type Shortening struct {
	Saves   Elapsed          `json:"saves_s"`  // of the longest wet time
	Margin  *Elapsed         `json:"margin_s"` // that it leaves; nil where no limit is known
	Code    string           `json:"code"`
	Step    string           `json:"step"`                   // the step changed; "" for the whole load
	Text    string           `json:"text"`                   // in words, in Celsius; empty until someone says it, kept in journals
	WarmTo  *chem.Celsius    `json:"temperature_c,omitzero"` // that the developer is warmed to; nil where it is not
	Price   string           `json:"price"`                  // what it costs, in words
	Caution string           `json:"caution,omitzero"`       // what to watch for, in words
	Parts   []ShorteningPart `json:"parts,omitzero"`         // of a combination: its single changes, in order
	ShorteningValues
}

// ShorteningValues are what a change is about; those that do not belong to its code are
// zero.
type ShorteningValues struct {
	Vessel Vessel       `json:"into,omitzero"`
	Kind   Kind         `json:"kind,omitzero"` // of the step changed
	Sheets int          `json:"sheets,omitzero"`
	Were   int          `json:"sheets_before,omitzero"`
	Time   Elapsed      `json:"time_s,omitzero"`
	Was    Elapsed      `json:"time_before_s,omitzero"`
	Rinse  Elapsed      `json:"rinse_s,omitzero"`
	Aid    Elapsed      `json:"aid_s,omitzero"`
	To     chem.Celsius `json:"to_c,omitzero"`
	Hasty  bool         `json:"hasty,omitzero"` // developing is cut to under five minutes

	Residual float64 `json:"residual_g_per_m2,omitzero"` // that a shorter wash leaves at most, thiosulfate
}

// ShorteningPart is one change of a combination.
type ShorteningPart struct {
	Code string `json:"code"`
	Step string `json:"step"`
	ShorteningValues
}

// Part is a single change as part of a combination.
func (s Shortening) Part() ShorteningPart { return ShorteningPart{s.Code, s.Step, s.ShorteningValues} }
